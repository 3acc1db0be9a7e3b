/** Centre lines made of straights and arcs, and the shortest one between two poses. Method: docs/methods/access.md */
import type { Point } from "../geometry/plane.js";

/** A place and a direction of travel: radians counter-clockwise from east. */
export interface Pose {
  readonly x: number;
  readonly y: number;
  readonly heading: number;
}

export interface Piece {
  /** 1 turns left, −1 right, 0 goes straight. */
  readonly turn: -1 | 0 | 1;
  readonly lengthFt: number;
  /** Of the centre line; ignored on straights. */
  readonly radiusFt: number;
}

export interface LanePath {
  readonly start: Pose;
  readonly pieces: readonly Piece[];
}

export function along({ x, y, heading }: Pose, { turn, radiusFt }: Piece, ft: number): Pose {
  if (turn === 0) return { x: x + ft * Math.cos(heading), y: y + ft * Math.sin(heading), heading };
  const next = heading + (turn * ft) / radiusFt;
  return {
    x: x + turn * radiusFt * (Math.sin(next) - Math.sin(heading)),
    y: y - turn * radiusFt * (Math.cos(next) - Math.cos(heading)),
    heading: next,
  };
}

export function lengthFt({ pieces }: Pick<LanePath, "pieces">): number {
  return pieces.reduce((sum, piece) => sum + piece.lengthFt, 0);
}

export function endOf({ start, pieces }: LanePath): Pose {
  return pieces.reduce((pose, piece) => along(pose, piece, piece.lengthFt), start);
}

/** The same line travelled the other way. */
export function reversed(path: LanePath): LanePath {
  const { x, y, heading } = endOf(path);
  return {
    start: { x, y, heading: heading + Math.PI },
    pieces: [...path.pieces].reverse().map((piece) => ({ ...piece, turn: -piece.turn as Piece["turn"] })),
  };
}

/** Neighbouring pieces of one kind made one; empty ones dropped. */
export function joined(pieces: readonly Piece[]): Piece[] {
  const result: Piece[] = [];
  for (const piece of pieces) {
    if (piece.lengthFt < SHORTEST_PIECE_FT) continue;
    const last = result.at(-1);
    if (last && last.turn === piece.turn && (piece.turn === 0 || last.radiusFt === piece.radiusFt))
      result[result.length - 1] = { ...last, lengthFt: last.lengthFt + piece.lengthFt };
    else result.push(piece);
  }
  return result;
}

/** Shorter pieces are rounding. */
const SHORTEST_PIECE_FT = 1e-6;

/**
 * Shortest line forward from one pose to another with no turn tighter than the radius: turn, straight or counter-turn,
 * turn. Six candidate words, the shortest kept.
 *
 * @see L. E. Dubins, "On Curves of Minimal Length with a Constraint on Average Curvature", Am. J. Math. 79 (1957)
 */
export function shortestPieces(from: Pose, to: Pose, radiusFt: number): Piece[] {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const d = Math.hypot(dx, dy) / radiusFt;
  const bearing = Math.atan2(dy, dx);
  const a = turnLeft(from.heading - bearing);
  const b = turnLeft(to.heading - bearing);
  let best: readonly [number, number, number] | null = null;
  let bestWord: (typeof WORDS)[number] = "LSL";
  for (const word of WORDS) {
    const found = solveWord(word, d, a, b);
    if (found && (best === null || found[0] + found[1] + found[2] < best[0] + best[1] + best[2])) {
      best = found;
      bestWord = word;
    }
  }
  return best!.map(
    (t, i): Piece => ({ turn: TURN[bestWord[i] as "L" | "S" | "R"], lengthFt: t * radiusFt, radiusFt }),
  );
}

const WORDS = ["LSL", "RSR", "LSR", "RSL", "RLR", "LRL"] as const;
const TURN = { L: 1, S: 0, R: -1 } as const;

/** Lengths of the three pieces for radius 1, start at the origin with heading a, end at (d, 0) with heading b. */
function solveWord(
  word: (typeof WORDS)[number],
  d: number,
  a: number,
  b: number,
): readonly [number, number, number] | null {
  const sa = Math.sin(a);
  const sb = Math.sin(b);
  const ca = Math.cos(a);
  const cb = Math.cos(b);
  const c = Math.cos(a - b);
  switch (word) {
    case "LSL": {
      const p2 = 2 + d * d - 2 * c + 2 * d * (sa - sb);
      const t = Math.atan2(cb - ca, d + sa - sb);
      return p2 < 0 ? null : [turnLeft(t - a), Math.sqrt(p2), turnLeft(b - t)];
    }
    case "RSR": {
      const p2 = 2 + d * d - 2 * c + 2 * d * (sb - sa);
      const t = Math.atan2(ca - cb, d - sa + sb);
      return p2 < 0 ? null : [turnLeft(a - t), Math.sqrt(p2), turnLeft(t - b)];
    }
    case "LSR": {
      const p2 = -2 + d * d + 2 * c + 2 * d * (sa + sb);
      if (p2 < 0) return null;
      const p = Math.sqrt(p2);
      const t = Math.atan2(-ca - cb, d + sa + sb) - Math.atan2(-2, p);
      return [turnLeft(t - a), p, turnLeft(t - b)];
    }
    case "RSL": {
      const p2 = -2 + d * d + 2 * c - 2 * d * (sa + sb);
      if (p2 < 0) return null;
      const p = Math.sqrt(p2);
      const t = Math.atan2(ca + cb, d - sa - sb) - Math.atan2(2, p);
      return [turnLeft(a - t), p, turnLeft(b - t)];
    }
    case "RLR": {
      const cosine = (6 - d * d + 2 * c + 2 * d * (sa - sb)) / 8;
      if (Math.abs(cosine) > 1) return null;
      const p = turnLeft(2 * Math.PI - Math.acos(cosine));
      const t = turnLeft(a - Math.atan2(ca - cb, d - sa + sb) + p / 2);
      return [t, p, turnLeft(a - b - t + p)];
    }
    case "LRL": {
      const cosine = (6 - d * d + 2 * c + 2 * d * (sb - sa)) / 8;
      if (Math.abs(cosine) > 1) return null;
      const p = turnLeft(2 * Math.PI - Math.acos(cosine));
      const t = turnLeft(-a - Math.atan2(ca - cb, d + sa - sb) + p / 2);
      return [t, p, turnLeft(b - a - t + p)];
    }
  }
}

/** An angle in [0, 2π); a hair below a full turn is rounding of none. */
function turnLeft(angle: number): number {
  const turn = angle - 2 * Math.PI * Math.floor(angle / (2 * Math.PI));
  return turn > 2 * Math.PI - 1e-9 ? 0 : turn;
}

/** Places along the line, evenly spaced, both ends included. */
export interface Station {
  readonly stationFt: number;
  readonly at: Point;
  readonly heading: number;
  /** Of the centre line here; Infinity on straights. */
  readonly radiusFt: number;
}

export function stationsOf(path: LanePath, count: number): Station[] {
  const total = lengthFt(path);
  const stations: Station[] = [];
  let pose = path.start;
  let before = 0;
  let i = 0;
  for (let k = 0; k <= count; k++) {
    const stationFt = (total * k) / count;
    while (i + 1 < path.pieces.length && stationFt > before + path.pieces[i]!.lengthFt) {
      pose = along(pose, path.pieces[i]!, path.pieces[i]!.lengthFt);
      before += path.pieces[i]!.lengthFt;
      i++;
    }
    const piece = path.pieces[i]!;
    const { x, y, heading } = along(pose, piece, stationFt - before);
    stations.push({ stationFt, at: [x, y], heading, radiusFt: piece.turn === 0 ? Infinity : piece.radiusFt });
  }
  return stations;
}
