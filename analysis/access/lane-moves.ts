/** The moves of a lane search, worked out once for every heading. */
import { centreLimit, type DriveRules } from "./drive-rules.js";
import type { Piece } from "./lane-path.js";
import { curveCost, limitOn, SAMPLE_FT } from "./lane-walk.js";

export interface LaneMove {
  readonly piece: Piece;
  readonly steps: number;
  readonly stepFt: number;
  /** Cost of a foot of it on level ground. */
  readonly perFt: number;
  /** Most it may climb in a step, on the apron and beyond it. */
  readonly apronStepFt: number;
  readonly mostStepFt: number;
  /** Most it may climb in all. */
  readonly mostFt: number;
  /** By heading and step, from the place the move begins: where it has come to, and its direction there. */
  readonly east: Float64Array;
  readonly north: Float64Array;
  readonly ahead: Float64Array;
  readonly up: Float64Array;
}

/** A straight at least `straightFt` long, and arcs left and right by one heading. Heading 0 is `fromRad`. */
export function laneMoves(
  rules: DriveRules,
  headings: number,
  straightFt: number,
  fromRad: number,
): readonly LaneMove[] {
  const { radiusFt } = rules;
  const arcFt = ((2 * Math.PI) / headings) * radiusFt;
  const pieces: readonly Piece[] = [
    { turn: 0, lengthFt: Math.max(arcFt, straightFt), radiusFt: Infinity },
    { turn: 1, lengthFt: arcFt, radiusFt },
    { turn: -1, lengthFt: arcFt, radiusFt },
  ];
  return pieces.map((piece) => moveOf(piece, rules, headings, fromRad));
}

function moveOf(piece: Piece, rules: DriveRules, headings: number, fromRad: number): LaneMove {
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
  return {
    piece,
    steps,
    stepFt,
    perFt: curveCost(piece, rules.radiusFt),
    apronStepFt: limitOn(piece, 0, rules) * stepFt,
    mostStepFt: limitOn(piece, Infinity, rules) * stepFt,
    mostFt: centreLimit(rules.limit, radiusFt, rules.widthFt) * lengthFt,
    east,
    north,
    ahead,
    up,
  };
}
