/** Outlines of a set of facets: the ground of one slope band, or the ground the survey supports. */
import { intersectionOf } from "../geometry/clip.js";
import type { MultiPolygon, Point, Ring } from "../geometry/plane.js";
import { nextSide } from "./half-edge.js";
import type { Tin } from "./terrain.js";

/** The chosen facets melted into polygons and cut to `within`: their outer sides are walked round into rings. Exact but for rounding to 0.0001 ft. */
export function facetsWithin(
  { eastFt, northFt, triangles, halfedges }: Pick<Tin, "eastFt" | "northFt" | "triangles" | "halfedges">,
  chosen: Uint8Array,
  within: MultiPolygon,
): MultiPolygon {
  const isOuter = (e: number) => {
    const twin = halfedges[e]!;
    return twin < 0 || !chosen[(twin / 3) | 0];
  };
  const used = new Uint8Array(triangles.length);
  const rings: Ring[] = [];
  for (let f = 0; f < chosen.length; f++) {
    if (!chosen[f]) continue;
    for (let k = 0; k < 3; k++) {
      const first = 3 * f + k;
      if (used[first] || !isOuter(first)) continue;
      const ring: Point[] = [];
      let e = first;
      do {
        used[e] = 1;
        const v = triangles[e]!;
        ring.push([eastFt[v]!, northFt[v]!]);
        // turn about the end vertex through the chosen facets until their outer side is met
        e = nextSide(e);
        while (!isOuter(e)) e = nextSide(halfedges[e]!);
      } while (e !== first);
      rings.push(ring);
    }
  }
  // rings round holes run clockwise, so that together they cover the facets and nothing else
  return rings.length === 0 ? [] : intersectionOf([rings], within);
}
