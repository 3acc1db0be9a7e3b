/** Ground heights at many places close to each other: the facet of the last place is where the next look begins. */
import type { Point } from "../geometry/plane.js";
import { elevationAt } from "../terrain/index.js";
import type { Tin } from "../terrain/terrain.js";

/** Facets crossed before the buckets are asked instead: a walk over facets that are not Delaunay can go in circles. */
const MOST_CROSSED = 64;
/** On a side, to the rounding of survey coordinates, ft² of twice the triangle. */
const ON_SIDE = -1e-9;

export class GroundWalk {
  readonly #tin: Tin;
  #facet = 0;

  constructor(tin: Tin) {
    this.#tin = tin;
  }

  /** Natural ground, ft; NaN where nobody surveyed. The same height as `elevationAt`. */
  heightAt([x, y]: Point): number {
    const tin = this.#tin;
    const { triangles, halfedges, eastFt, northFt } = tin;
    let f = this.#facet;
    for (let crossed = 0; crossed < MOST_CROSSED; crossed++) {
      const side = sideTowards(tin, f, x, y);
      if (side < 0) {
        this.#facet = f;
        if (!tin.supported[f]) return NaN;
        const v = triangles[3 * f]!;
        return tin.elevFt[v]! + tin.gradEast[f]! * (x - eastFt[v]!) + tin.gradNorth[f]! * (y - northFt[v]!);
      }
      const twin = halfedges[3 * f + side]!;
      if (twin < 0) break;
      f = Math.floor(twin / 3);
    }
    return elevationAt(tin, x, y);
  }
}

/** Side of a facet that a place lies farthest beyond; −1 where it lies on the facet. */
function sideTowards({ triangles, eastFt, northFt }: Tin, f: number, x: number, y: number): number {
  let side = -1;
  let least = ON_SIDE;
  for (let k = 0; k < 3; k++) {
    const a = triangles[3 * f + k]!;
    const b = triangles[3 * f + ((k + 1) % 3)]!;
    const left =
      (eastFt[b]! - eastFt[a]!) * (y - northFt[a]!) - (northFt[b]! - northFt[a]!) * (x - eastFt[a]!);
    if (left < least) {
      least = left;
      side = k;
    }
  }
  return side;
}
