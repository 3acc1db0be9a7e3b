/** Pulls the slack out of a line found on a grid of headings. */
import type { DriveRules } from "./drive-rules.js";
import { along, bearingOf, joined, piecesOf } from "./lane-path.js";
import type { FoundLane } from "./lane-search.js";
import { curveCost } from "./lane-walk.js";
import type { LineCost } from "./line-cost.js";
import { type Bearing, ShortestCurve } from "./shortest-curve.js";

/** Curves tried in place of what was found, as multiples of the tightest. */
const WIDER = [1, 1.5, 2.5] as const;

/** Rounds of pulling; from the second on, long pieces may part in the middle. */
const ROUNDS = 3;
const LONG_PIECE_FT = 20;
const LEAST_GAIN_FT = 0.1;

/**
 * Pulls the slack out of a found line: wherever the shortest curve between two of its joints, tight or wide, makes the
 * whole line cheaper, it takes the place of what lay between. A curve that would cost more even on level ground is passed over.
 * The run straight out of the door stays.
 */
export function straightened(lane: FoundLane, rules: DriveRules, price: LineCost): FoundLane {
  let best = lane;
  for (let round = 0; round < ROUNDS; round++) best = pulled(round === 0 ? best : parted(best), rules, price);
  return { ...best, path: { ...best.path, pieces: joined(best.path.pieces) } };
}

function pulled(lane: FoundLane, { radiusFt }: DriveRules, price: LineCost): FoundLane {
  const first = price.of(lane);
  if (first === null) return lane;
  const curve = new ShortestCurve();
  let best = lane;
  let cost = first;
  let costs = price.byPiece();
  let joints = jointsOf(lane);
  for (let from = 1; from < best.path.pieces.length; from++)
    for (let to = best.path.pieces.length; to > from; to--) {
      const { start, pieces } = best.path;
      const before = cost;
      let elsewhere = cost;
      for (let i = from; i < to; i++) elsewhere -= costs[i]!;
      for (const times of WIDER) {
        const radius = times * radiusFt;
        const mostFt = cost - LEAST_GAIN_FT - elsewhere;
        if (!(curve.between(joints[from]!, joints[to]!, radius, mostFt) < mostFt)) continue;
        const between = piecesOf(curve, radius);
        let levelFt = 0;
        for (const piece of between) levelFt += piece.lengthFt * curveCost(piece, radiusFt);
        if (!(levelFt < mostFt)) continue;
        const tried = {
          path: { start, pieces: joined([...pieces.slice(0, from), ...between, ...pieces.slice(to)]) },
          entry: best.entry,
        };
        const triedCost = price.of(tried, cost - LEAST_GAIN_FT);
        if (triedCost === null) continue;
        best = tried;
        cost = triedCost;
        costs = price.byPiece();
      }
      if (cost === before) continue;
      joints = jointsOf(best);
      break;
    }
  return best;
}

/** Where the pieces of a line begin, and where the last one ends. */
function jointsOf({ path: { start, pieces } }: FoundLane): Bearing[] {
  let pose = start;
  const joints = [bearingOf(pose)];
  for (const piece of pieces) {
    pose = along(pose, piece, piece.lengthFt);
    joints.push(bearingOf(pose));
  }
  return joints;
}

/** The same line with its long pieces, but for the first, in two. */
function parted({ path, entry }: FoundLane): FoundLane {
  const pieces = path.pieces.flatMap((piece, i) => {
    const half = { ...piece, lengthFt: piece.lengthFt / 2 };
    return i === 0 || piece.lengthFt < LONG_PIECE_FT ? [piece] : [half, half];
  });
  return { path: { start: path.start, pieces }, entry };
}
