/** Centre lines made of straights and arcs. Method: docs/methods/access.md */
import type { Point } from "../geometry/plane.js";
import type { Bearing, ShortestCurve } from "./shortest-curve.js";

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

/** The curve found last in three pieces, some perhaps empty. */
export function piecesOf(
  { firstTurn, middleTurn, lastTurn, first, middle, last }: ShortestCurve,
  radiusFt: number,
): Piece[] {
  return [
    { turn: firstTurn, lengthFt: first * radiusFt, radiusFt },
    { turn: middleTurn, lengthFt: middle * radiusFt, radiusFt },
    { turn: lastTurn, lengthFt: last * radiusFt, radiusFt },
  ];
}

export function bearingOf({ x, y, heading }: Pose): Bearing {
  return { x, y, ahead: Math.cos(heading), up: Math.sin(heading) };
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
