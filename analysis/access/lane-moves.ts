/** The moves of a lane search, worked out once for every heading. */
import type { Piece } from "./lane-path.js";
import { SAMPLE_FT } from "./lane-walk.js";

export interface LaneMove {
  readonly piece: Piece;
  readonly steps: number;
  readonly stepFt: number;
  /** By heading and step, from the place the move begins: where it has come to, and its direction there. */
  readonly east: Float64Array;
  readonly north: Float64Array;
  readonly ahead: Float64Array;
  readonly up: Float64Array;
}

/** A straight at least `straightFt` long, and arcs left and right by one heading. Heading 0 is `fromRad`. */
export function laneMoves(
  radiusFt: number,
  headings: number,
  straightFt: number,
  fromRad: number,
): readonly LaneMove[] {
  const turnRad = (2 * Math.PI) / headings;
  const arcFt = turnRad * radiusFt;
  return [
    moveOf({ turn: 0, lengthFt: Math.max(arcFt, straightFt), radiusFt: Infinity }, headings, fromRad),
    moveOf({ turn: 1, lengthFt: arcFt, radiusFt }, headings, fromRad),
    moveOf({ turn: -1, lengthFt: arcFt, radiusFt }, headings, fromRad),
  ];
}

function moveOf(piece: Piece, headings: number, fromRad: number): LaneMove {
  const { turn, lengthFt, radiusFt } = piece;
  const steps = Math.ceil(lengthFt / SAMPLE_FT);
  const stepFt = lengthFt / steps;
  const [east, north, ahead, up] = Array.from({ length: 4 }, () => new Float64Array(headings * steps)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  for (let h = 0; h < headings; h++) {
    const heading = fromRad + (2 * Math.PI * h) / headings;
    const sine = Math.sin(heading);
    const cosine = Math.cos(heading);
    for (let k = 0; k < steps; k++) {
      const i = h * steps + k;
      const ft = (k + 1) * stepFt;
      const next = turn === 0 ? heading : heading + (turn * ft) / radiusFt;
      ahead[i] = Math.cos(next);
      up[i] = Math.sin(next);
      east[i] = turn === 0 ? ft * cosine : turn * radiusFt * (up[i]! - sine);
      north[i] = turn === 0 ? ft * sine : -turn * radiusFt * (ahead[i]! - cosine);
    }
  }
  return { piece, steps, stepFt, east, north, ahead, up };
}
