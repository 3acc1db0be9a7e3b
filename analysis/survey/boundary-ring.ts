/** Corners as sent to a lot line that can be computed with: closed once, counter-clockwise, not crossing itself. */

import { polygon } from "@turf/helpers";
import kinks from "@turf/kinks";
import { type Point, perimeterFt, type Ring, signedAreaFt2 } from "../geometry/plane.js";
import { measure } from "../measure.js";
import { SQUARE_FEET_PER_ACRE, toAcres } from "../units.js";
import type { IntakeNotes } from "./notes.js";

/** Two corners closer than this are one. */
const SAME_PLACE_FT = 0.001;
/** A lot of a thousand acres is not for one house. */
const LARGEST_FT2 = 1_000 * SQUARE_FEET_PER_ACRE;
/** A lot smaller than this is asked about: metres taken for feet shrink a lot eleven times. */
const SMALL_FT2 = 2_500;
/** A lot thinner than this on average is a line drawn twice. */
const THINNEST_FT = 0.1;

export interface LotLine {
  readonly boundary: Ring;
  readonly inputEdge: readonly number[];
}

interface Corner {
  readonly at: Point;
  /** Caller's number of the edge leaving this corner. */
  readonly edge: number;
  readonly row: number | null;
}

/** `edge[i]` is the caller's number of the edge that leaves ring[i]; corners sent twice in a row are taken once. Null with a problem when no lot comes of it. */
export function settleLotLine(
  { ring, edge, row }: { ring: Ring; edge: readonly number[]; row: readonly number[] | null },
  notes: IntakeNotes,
): LotLine | null {
  const corners = dropRepeats(ring.map((at, i) => ({ at, edge: edge[i]!, row: row?.[i] ?? null })));
  const refuse = (code: string, message: string, remedy: string, at?: Corner) => {
    notes.problems.push({ code, where: "boundary", ...(at?.row ? { row: at.row } : {}), message, remedy });
    return null;
  };
  if (corners.length < 3)
    return refuse(
      "boundary-too-few-corners",
      `The boundary has ${corners.length} different corner${corners.length === 1 ? "" : "s"}; a lot needs three.`,
      "Send every corner of the lot in order.",
    );
  const touching = firstTouch(corners);
  if (touching)
    return refuse(
      "boundary-touches-itself",
      "The boundary comes back to a corner before it is complete.",
      "Send one lot at a time, its corners in order and each once.",
      touching,
    );
  const crossing = firstCrossing(corners);
  if (crossing)
    return refuse(
      "boundary-crosses-itself",
      `The boundary crosses itself between the edges leaving corners ${crossing.map((i) => corners[i]!.edge + 1).join(" and ")}.`,
      "List the corners in order round the lot, clockwise or counter-clockwise.",
      corners[crossing[0]],
    );
  const area = signedAreaFt2(corners.map(({ at }) => at));
  if (Math.abs(area) < (THINNEST_FT * perimeterFt(corners.map(({ at }) => at))) / 2)
    return refuse(
      "boundary-no-area",
      "The corners of the boundary lie on one line, or the line runs back over itself.",
      "Check northings and eastings, and that the corners are in order round the lot.",
    );
  if (Math.abs(area) > LARGEST_FT2)
    return refuse(
      "lot-too-large",
      `The boundary holds ${Math.round(toAcres(Math.abs(area)))} acres; at most ${toAcres(LARGEST_FT2)} are read.`,
      "Check the unit and the coordinates, or send the part of the land that is in question.",
    );
  if (Math.abs(area) < SMALL_FT2)
    notes.warnings.push({
      code: "lot-small",
      message: `The lot has ${measure(Math.round(Math.abs(area)), "ft²")}: small for a house lot.`,
      remedy: "Check survey.unit: metres taken for feet make a lot eleven times too small.",
    });
  return area > 0
    ? { boundary: corners.map(({ at }) => at), inputEdge: corners.map((corner) => corner.edge) }
    : reversed(corners);
}

function dropRepeats(corners: readonly Corner[]): Corner[] {
  // of corners in one place the last is kept: the edge that leaves the place is the last one's
  return corners.filter(({ at }, i) => {
    if (corners.length === 1) return true;
    const next = corners[(i + 1) % corners.length]!.at;
    return Math.hypot(next[0] - at[0], next[1] - at[1]) > SAME_PLACE_FT;
  });
}

function reversed(corners: readonly Corner[]): LotLine {
  const n = corners.length;
  const back = corners.toReversed();
  // walking backwards, the edge that leaves a corner is the one that arrived at it
  return {
    boundary: back.map(({ at }) => at),
    inputEdge: back.map((_, k) => corners[(2 * n - 2 - k) % n]!.edge),
  };
}

function firstTouch(corners: readonly Corner[]): Corner | null {
  const seen = new Set<string>();
  for (const corner of corners) {
    const place = corner.at.map((v) => Math.round(v / SAME_PLACE_FT)).join();
    if (seen.has(place)) return corner;
    seen.add(place);
  }
  return null;
}

/** Indices of two edges that cross. */
function firstCrossing(corners: readonly Corner[]): [number, number] | null {
  const ring = corners.map(({ at }) => [at[0], at[1]]);
  const [crossing] = kinks(polygon([[...ring, ring[0]!]])).features;
  if (!crossing) return null;
  const [x, y] = crossing.geometry.coordinates as [number, number];
  const away = corners.map(({ at: [ax, ay] }, i) => {
    const [bx, by] = corners[(i + 1) % corners.length]!.at;
    const length = Math.hypot(bx - ax, by - ay);
    return { i, off: Math.hypot(x - ax, y - ay) + Math.hypot(x - bx, y - by) - length };
  });
  const [one, other] = away.sort((a, b) => a.off - b.off);
  return [Math.min(one!.i, other!.i), Math.max(one!.i, other!.i)];
}
