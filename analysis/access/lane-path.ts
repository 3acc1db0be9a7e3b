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
  const known: Known = {
    d,
    a,
    b,
    sa: Math.sin(a),
    sb: Math.sin(b),
    ca: Math.cos(a),
    cb: Math.cos(b),
    cab: Math.cos(a - b),
  };
  const tried: Triple = [0, 0, 0];
  let best = WORDS[0]!;
  let least = Infinity;
  for (const word of WORDS) {
    if (!word.solve(known, tried)) continue;
    const sum = tried[0] + tried[1] + tried[2];
    if (sum >= least) continue;
    least = sum;
    best = word;
  }
  best.solve(known, tried);
  return best.turns.map((turn, i): Piece => ({ turn, lengthFt: tried[i]! * radiusFt, radiusFt }));
}

/** Radius 1, from the origin with heading a to (d, 0) with heading b; their sines and cosines, and that of a − b. */
interface Known {
  readonly d: number;
  readonly a: number;
  readonly b: number;
  readonly sa: number;
  readonly sb: number;
  readonly ca: number;
  readonly cb: number;
  readonly cab: number;
}
type Triple = [number, number, number];

/** Each word writes the lengths of its three pieces; false where it does not exist. */
const WORDS: readonly {
  readonly turns: readonly [Piece["turn"], Piece["turn"], Piece["turn"]];
  readonly solve: (known: Known, out: Triple) => boolean;
}[] = [
  {
    turns: [1, 0, 1],
    solve({ d, a, b, sa, sb, ca, cb, cab }, out) {
      const p2 = 2 + d * d - 2 * cab + 2 * d * (sa - sb);
      const t = Math.atan2(cb - ca, d + sa - sb);
      return p2 >= 0 && write(out, turnLeft(t - a), Math.sqrt(p2), turnLeft(b - t));
    },
  },
  {
    turns: [-1, 0, -1],
    solve({ d, a, b, sa, sb, ca, cb, cab }, out) {
      const p2 = 2 + d * d - 2 * cab + 2 * d * (sb - sa);
      const t = Math.atan2(ca - cb, d - sa + sb);
      return p2 >= 0 && write(out, turnLeft(a - t), Math.sqrt(p2), turnLeft(t - b));
    },
  },
  {
    turns: [1, 0, -1],
    solve({ d, a, b, sa, sb, ca, cb, cab }, out) {
      const p2 = -2 + d * d + 2 * cab + 2 * d * (sa + sb);
      if (p2 < 0) return false;
      const p = Math.sqrt(p2);
      const t = Math.atan2(-ca - cb, d + sa + sb) - Math.atan2(-2, p);
      return write(out, turnLeft(t - a), p, turnLeft(t - b));
    },
  },
  {
    turns: [-1, 0, 1],
    solve({ d, a, b, sa, sb, ca, cb, cab }, out) {
      const p2 = -2 + d * d + 2 * cab - 2 * d * (sa + sb);
      if (p2 < 0) return false;
      const p = Math.sqrt(p2);
      const t = Math.atan2(ca + cb, d - sa - sb) - Math.atan2(2, p);
      return write(out, turnLeft(a - t), p, turnLeft(b - t));
    },
  },
  {
    turns: [-1, 1, -1],
    solve({ d, a, b, sa, sb, ca, cb, cab }, out) {
      const cosine = (6 - d * d + 2 * cab + 2 * d * (sa - sb)) / 8;
      if (Math.abs(cosine) > 1) return false;
      const p = turnLeft(2 * Math.PI - Math.acos(cosine));
      const t = turnLeft(a - Math.atan2(ca - cb, d - sa + sb) + p / 2);
      return write(out, t, p, turnLeft(a - b - t + p));
    },
  },
  {
    turns: [1, -1, 1],
    solve({ d, a, b, sa, sb, ca, cb, cab }, out) {
      const cosine = (6 - d * d + 2 * cab + 2 * d * (sb - sa)) / 8;
      if (Math.abs(cosine) > 1) return false;
      const p = turnLeft(2 * Math.PI - Math.acos(cosine));
      const t = turnLeft(-a - Math.atan2(ca - cb, d + sa - sb) + p / 2);
      return write(out, t, p, turnLeft(b - a - t + p));
    },
  },
];

function write(out: Triple, first: number, second: number, third: number): true {
  out[0] = first;
  out[1] = second;
  out[2] = third;
  return true;
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
