/** Layouts made once and kept, by shape and a whole number (risers of a step, a direction). */
import type { Point } from "../geometry/plane.js";
import { boxOfShape, type FootprintShape } from "./footprints.js";
import type { GroundGrid } from "./ground-grid.js";
import type { Layout } from "./layout.js";
import type { Place } from "./place.js";

/** Directions of the downhill side told apart when aprons are laid out. */
const DIRECTIONS = 48;

export class KeptLayouts {
  readonly #kept = new Map<FootprintShape, (Layout | undefined)[]>();
  readonly #armFt = new Map<FootprintShape, number>();

  at(shape: FootprintShape, index: number, make: () => Layout): Layout {
    let row = this.#kept.get(shape);
    if (!row) {
      row = [];
      this.#kept.set(shape, row);
    }
    const known = row[index];
    if (known) return known;
    const layout = make();
    row[index] = layout;
    return layout;
  }

  /** By the direction the ground falls in, seen from the house: `make` is given it as a unit vector in (u, v). */
  byDownhill(
    place: Place,
    shape: FootprintShape,
    ground: GroundGrid,
    make: (downhill: Point) => Layout,
  ): Layout {
    let armFt = this.#armFt.get(shape);
    if (armFt === undefined) {
      const { u0, u1, v0, v1 } = boxOfShape(shape);
      armFt = Math.min(u1 - u0, v1 - v0) / 2;
      this.#armFt.set(shape, armFt);
    }
    const [dx, dy] = ground.downhillAt([place.eastFt, place.northFt], armFt);
    const part = Math.round(((Math.atan2(dy, dx) - place.turnRad) / (2 * Math.PI)) * DIRECTIONS);
    const index = Number.isFinite(part) ? ((part % DIRECTIONS) + DIRECTIONS) % DIRECTIONS : 0;
    const turn = (index / DIRECTIONS) * 2 * Math.PI;
    return this.at(shape, index, () => make([Math.cos(turn), Math.sin(turn)]));
  }
}
