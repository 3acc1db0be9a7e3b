/** Ground shots joined to triangles. */
import Delaunator from "delaunator";
import { hilbertOrder, inOrder } from "../geometry/hilbert.js";
import type { JoinedGround } from "./join-breaklines.js";
import type { Mesh } from "./mesh.js";
import { settleTies } from "./settle-ties.js";

interface Constrainer {
  /** Sides to be looked at again after a flip. */
  flips: FlippedSides;
  /** Flips sides until the two points are joined; throws where that cannot be. */
  constrainOne(from: number, to: number): number;
  isConstrained(side: number): boolean;
}
// The package offers its TypeScript sources as types, and those do not pass this project's compiler options: so it is loaded by name.
const CONSTRAINER: string = "@kninnug/constrainautor";
const { default: Constrainautor } = (await import(/* @vite-ignore */ CONSTRAINER)) as {
  default: new (triangulation: object) => Constrainer;
};

/** The package walks through one bit for every side of the mesh after each side it forces; this walks through the flipped ones. */
class FlippedSides extends Set<number> {
  set(side: number, isFlipped: boolean): boolean {
    if (isFlipped) this.add(side);
    else this.delete(side);
    return isFlipped;
  }
}

/**
 * Delaunay triangles over the points, with the sides of break lines forced in, then `faceSides`, the sides of facets
 * the surveyor drew (pairs of points), as far as they cross no break line. The points are put in Hilbert order
 * first: neighbours in space become neighbours in memory. Empty when all points lie on one line.
 */
export function triangulate(
  { sides, ...ground }: JoinedGround,
  faceSides: Uint32Array = new Uint32Array(),
): Mesh {
  // intake hands shots on in this order, so that only those with break lines are moved
  const order = hilbertOrder(ground.eastFt, ground.northFt);
  const eastFt = order ? inOrder(ground.eastFt, order) : ground.eastFt;
  const northFt = order ? inOrder(ground.northFt, order) : ground.northFt;
  const elevFt = order ? inOrder(ground.elevFt, order) : ground.elevFt;
  const count = eastFt.length;
  const xy = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    xy[2 * i] = eastFt[i]!;
    xy[2 * i + 1] = -northFt[i]!; // Delaunator counts round with y down
  }
  const triangulation = new Delaunator(xy);
  const { triangles, halfedges } = triangulation;
  const onBreakline = new Uint8Array(count);
  const mesh = { eastFt, northFt, elevFt, onBreakline, triangles, halfedges };
  if (sides.length + faceSides.length === 0 || triangles.length === 0) {
    settleTies(mesh, xy);
    return { ...mesh, sidesLost: 0, faceSidesLost: 0 };
  }
  const place = new Uint32Array(count);
  for (let i = 0; i < count; i++) place[order ? order[i]! : i] = i;
  const constrainer = new Constrainautor(triangulation);
  constrainer.flips = new FlippedSides();
  const isLost = (a: number, b: number) => {
    try {
      constrainer.constrainOne(place[a]!, place[b]!);
      return false;
    } catch {
      return true;
    }
  };
  let sidesLost = 0;
  for (const [a, b] of sides) {
    onBreakline[place[a]!] = 1;
    onBreakline[place[b]!] = 1;
    if (isLost(a, b)) sidesLost++;
  }
  let faceSidesLost = 0;
  for (let i = 0; i < faceSides.length; i += 2) if (isLost(faceSides[i]!, faceSides[i + 1]!)) faceSidesLost++;
  settleTies(mesh, xy, (side) => constrainer.isConstrained(side));
  return { ...mesh, sidesLost, faceSidesLost };
}
