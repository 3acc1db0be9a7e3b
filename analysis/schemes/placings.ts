/** Where footprints may stand, and the directions they are tried in. */
import type { Reach } from "../access/index.js";
import { areaFt2, type MultiPolygon, type Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { Ground } from "./contained.js";
import { footprintFlat, outlineOfShape } from "./footprint-outline.js";
import type { FootprintShape } from "./footprints.js";
import type { GroundGrid } from "./ground-grid.js";
import type { Place } from "./place.js";
import { TurnedGround } from "./turned-ground.js";

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

  constructor(polygons: MultiPolygon, turnsRad: readonly number[], ground: GroundGrid) {
    this.#exact = new Ground(polygons);
    this.groundFt2 = areaFt2(polygons);
    this.turns = this.#exact.isEmpty
      ? []
      : turnsRad.map((turnRad) => new TurnedGround(polygons, turnRad, ground));
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

/** Turns of a half circle that a house is tried in: evenly from the search axis, and square with the street in each direction it runs in. */
export function searchTurnsRad(site: Site, { entries }: Reach): number[] {
  const axis = searchAxisRad(site);
  const turns = Array.from(
    { length: 180 / TURN_STEP_DEG },
    (_, i) => axis + (i * TURN_STEP_DEG * Math.PI) / 180,
  );
  const streets: number[] = [];
  for (const { inward } of entries) {
    const heading = Math.atan2(inward[1], inward[0]);
    if (streets.length === MOST_STREETS) break;
    if (!streets.some((known) => Math.abs(Math.sin(2 * (known - heading))) < SAME_STREET_SINE))
      streets.push(heading);
  }
  return [...turns, ...streets.flatMap((heading) => [heading, heading + Math.PI / 2])];
}

/** Directions of streets that are told apart, and the sine of twice the angle from which they are. */
const MOST_STREETS = 2;
const SAME_STREET_SINE = Math.sin((10 * Math.PI) / 180);

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
