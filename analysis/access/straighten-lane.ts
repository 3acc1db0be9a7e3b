/** Pulls the slack out of a line found on a grid of headings. */
import type { DriveRules } from "./drive-rules.js";
import { along, joined, type Piece, type Pose, shortestPieces } from "./lane-path.js";
import type { FoundLane } from "./lane-search.js";

/** Curves tried in place of what was found, as multiples of the tightest. */
const WIDER = [1, 1.5, 2.5] as const;

/** Cost of a whole line; null where it has no room or cannot climb, and above the budget. */
export type CostOf = (lane: FoundLane, budgetFt?: number) => number | null;

/** Rounds of pulling; from the second on, long pieces may part in the middle. */
const ROUNDS = 3;
const LONG_PIECE_FT = 20;
const LEAST_GAIN_FT = 0.1;

/**
 * Pulls the slack out of a found line: wherever the shortest curve between two of its joints, tight or wide, is cheaper
 * as a whole, it takes the place of what lay between. The run straight out of the door stays.
 */
export function straightened(lane: FoundLane, rules: DriveRules, costOf: CostOf): FoundLane {
  let best = lane;
  for (let round = 0; round < ROUNDS; round++)
    best = pulled(round === 0 ? best : parted(best), rules, costOf);
  return { ...best, path: { ...best.path, pieces: joined(best.path.pieces) } };
}

function pulled(lane: FoundLane, { radiusFt }: DriveRules, costOf: CostOf): FoundLane {
  let best = lane;
  let cost = costOf(lane);
  if (cost === null) return lane;
  for (let from = 1; from < best.path.pieces.length; from++)
    for (let to = best.path.pieces.length; to > from; to--) {
      const { start, pieces } = best.path;
      const a = pieces.slice(0, from).reduce(travelled, start);
      const b = pieces.slice(from, to).reduce(travelled, a);
      const before = cost;
      for (const times of WIDER) {
        const between = shortestPieces(a, b, times * radiusFt);
        const tried = {
          path: { start, pieces: joined([...pieces.slice(0, from), ...between, ...pieces.slice(to)]) },
          entry: best.entry,
        };
        const triedCost = costOf(tried, cost - LEAST_GAIN_FT);
        if (triedCost === null) continue;
        best = tried;
        cost = triedCost;
      }
      if (cost < before) break;
    }
  return best;
}

/** The same line with its long pieces, but for the first, in two. */
function parted({ path, entry }: FoundLane): FoundLane {
  const pieces = path.pieces.flatMap((piece, i) => {
    const half = { ...piece, lengthFt: piece.lengthFt / 2 };
    return i === 0 || piece.lengthFt < LONG_PIECE_FT ? [piece] : [half, half];
  });
  return { path: { start: path.start, pieces }, entry };
}

function travelled(pose: Pose, piece: Piece): Pose {
  return along(pose, piece, piece.lengthFt);
}
