import { bearingOf, type Piece, type Pose, piecesOf } from "../../analysis/access/lane-path.js";
import { ShortestCurve } from "../../analysis/access/shortest-curve.js";

/** The shortest curve between two poses in its three pieces. */
export function shortestPieces(from: Pose, to: Pose, radiusFt: number): Piece[] {
  const curve = new ShortestCurve();
  curve.between(bearingOf(from), bearingOf(to), radiusFt);
  return piecesOf(curve, radiusFt);
}
