/** Pulls the slack out of a line found on a grid of headings. */
import type { DriveRules } from "./drive-rules.js";
import { along, joined, lengthFt, shortestPieces } from "./lane-path.js";
import type { FoundLane } from "./lane-search.js";

/**
 * Pulls the slack out of a found line: wherever the shortest curve between two of its joints is cheaper as a whole, it
 * takes the place of what lay between. The apron stays.
 */
export function straightened(
  lane: FoundLane,
  rules: DriveRules,
  costOf: (lane: FoundLane) => number | null,
): FoundLane {
  let best = lane;
  let cost = costOf(lane);
  if (cost === null) return lane;
  for (let from = 1; from < best.path.pieces.length; from++)
    for (let to = best.path.pieces.length; to > from + 1; to--) {
      const { start, pieces } = best.path;
      const a = pieces.slice(0, from).reduce((pose, piece) => along(pose, piece, piece.lengthFt), start);
      const b = pieces.slice(from, to).reduce((pose, piece) => along(pose, piece, piece.lengthFt), a);
      const pulled = joined([
        ...pieces.slice(0, from),
        ...shortestPieces(a, b, rules.radiusFt),
        ...pieces.slice(to),
      ]);
      if (lengthFt({ pieces: pulled }) >= lengthFt({ pieces })) continue;
      const tried = { path: { start, pieces: pulled }, entry: best.entry };
      const triedCost = costOf(tried);
      if (triedCost === null || triedCost >= cost) continue;
      best = tried;
      cost = triedCost;
      break;
    }
  return best;
}
