/** Where footprints may stand, and the directions they are tried in. */
import { areaFt2, type MultiPolygon, type Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { TurnedGround } from "./admissible.js";
import { Ground } from "./contained.js";
import { footprintFlat, outlineOfShape } from "./footprint-outline.js";
import type { FootprintShape } from "./footprints.js";
import type { Place } from "./place.js";

/** Step between the turns tried first. */
const TURN_STEP_DEG = 10;
/** The ground a footprint may stand on: exact, and as turned masks shared by every kind and shape. */
export class Placings {
  readonly turns: readonly TurnedGround[];
  readonly groundFt2: number;
  readonly #exact: Ground;
  readonly #outlines = new Map<
    FootprintShape,
    { readonly corners: readonly Point[]; readonly placed: Float64Array }
  >();

  constructor(polygons: MultiPolygon, axisRad: number) {
    this.#exact = new Ground(polygons);
    this.groundFt2 = areaFt2(polygons);
    this.turns = this.#exact.isEmpty
      ? []
      : Array.from(
          { length: 180 / TURN_STEP_DEG },
          (_, i) => new TurnedGround(polygons, axisRad + (i * TURN_STEP_DEG * Math.PI) / 180),
        );
  }

  /** True when the placed footprint lies wholly on the ground. */
  holds(place: Place, shape: FootprintShape): boolean {
    let outline = this.#outlines.get(shape);
    if (!outline) {
      const corners = outlineOfShape(shape);
      outline = { corners, placed: new Float64Array(2 * corners.length) };
      this.#outlines.set(shape, outline);
    }
    return this.#exact.holds(footprintFlat(place, outline.corners, outline.placed));
  }
}

/** Direction the turns are counted from: along the contour of the mean slope; the longest lot line where the ground is level. It turns with the lot. */
export function searchAxisRad({ terrain, survey }: Site): number {
  const { grid, values } = terrain.elevation;
  let n = 0;
  let sx = 0;
  let sy = 0;
  for (let row = 0; row + 1 < grid.rows; row++)
    for (let col = 0; col + 1 < grid.cols; col++) {
      const i = row * grid.cols + col;
      const dx = values[i + 1]! - values[i]!;
      const dy = values[i + grid.cols]! - values[i]!;
      if (Number.isNaN(dx + dy)) continue;
      n++;
      sx += dx;
      sy += dy;
    }
  if (n > 0 && Math.hypot(sx, sy) > LEVEL_SLOPE * n * grid.cellFt) return Math.atan2(sy, sx) + Math.PI / 2;
  let longest = 0;
  let axis = 0;
  survey.boundary.forEach(([ax, ay], i) => {
    const [bx, by] = survey.boundary[(i + 1) % survey.boundary.length]!;
    if (Math.hypot(bx - ax, by - ay) > longest) {
      longest = Math.hypot(bx - ax, by - ay);
      axis = Math.atan2(by - ay, bx - ax);
    }
  });
  return axis;
}

/** Mean slopes below this have no direction worth following. */
const LEVEL_SLOPE = 0.01;
