/** Water over the natural ground, before anything is built. */
import { cellCentre } from "../geometry/grid.js";
import { type Point, polygonsContain } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { Site } from "../lot/site.js";
import { SQUARE_FEET_PER_ACRE } from "../units.js";
import { catchmentOf } from "./catchments.js";
import type { LotWater } from "./drainage.js";
import { type FlowField, flowField } from "./flow-field.js";

/** Lines that gather less ground than this are not drawn. Common practice, no source. */
const STREAM_FROM_FT2 = SQUARE_FEET_PER_ACRE / 8;
/** Hollows shallower or smaller than this are taken for noise of the survey. Common practice, no source. */
const HOLLOW = { depthFt: 0.5, areaFt2: 200 } as const;

export function routeLotWater({ terrain, survey }: Site): LotWater {
  const flow = flowField(terrain.elevation);
  const lot = catchmentOf(flow, [[survey.boundary]]);
  return {
    flow,
    streams: streamsOf(flow, survey.boundary),
    depressions: depressionsOf(flow, terrain.elevation.values, survey.boundary),
    lotCatchmentFt2: lot.aboveFt2 + lot.placeFt2,
    lotCatchment: lot.polygons,
    lowerBound: lot.lowerBound,
  };
}

/** Lines of gathered water that touch the lot, each from its head down to where it joins another or leaves the survey. */
function streamsOf(flow: FlowField, boundary: Site["survey"]["boundary"]): LotWater["streams"] {
  const { grid, order, receiver, dInfinityFt2 } = flow;
  const wet = (cell: number) => dInfinityFt2[cell]! >= STREAM_FROM_FT2;
  const fed = new Uint8Array(dInfinityFt2.length);
  for (const cell of order) if (wet(cell) && receiver[cell]! >= 0) fed[receiver[cell]!] = 1;
  const drawn = new Uint8Array(dInfinityFt2.length);
  const streams: { line: Point[]; catchmentFt2: number }[] = [];
  // heads first from the top of the hill, so that the longest line keeps its name
  for (let i = order.length - 1; i >= 0; i--) {
    const head = order[i]!;
    if (!wet(head) || fed[head]) continue;
    const line: Point[] = [];
    let catchmentFt2 = 0;
    let touches = false;
    for (let cell = head; cell >= 0 && wet(cell); cell = receiver[cell]!) {
      const at = cellCentre(grid, cell % grid.cols, Math.floor(cell / grid.cols));
      line.push(at);
      touches ||= polygonsContain([[boundary]], at);
      catchmentFt2 = Math.max(catchmentFt2, dInfinityFt2[cell]!);
      if (drawn[cell]) break;
      drawn[cell] = 1;
    }
    if (touches && line.length > 1) streams.push({ line, catchmentFt2 });
  }
  return streams.sort((a, b) => b.catchmentFt2 - a.catchmentFt2);
}

/** Hollows without an outlet that touch the lot, deep and large enough to be real ponds. */
function depressionsOf(
  { grid, filledFt }: FlowField,
  groundFt: Float32Array,
  boundary: Site["survey"]["boundary"],
): LotWater["depressions"] {
  const { cols, rows, cellFt } = grid;
  const onLot = scanPolygons(grid, [[boundary]]).values;
  const depth = (cell: number) => filledFt[cell]! - groundFt[cell]!;
  const seen = new Uint8Array(cols * rows);
  const found: { areaFt2: number; depthFt: number; at: Point }[] = [];
  for (let start = 0; start < seen.length; start++) {
    if (seen[start] || !(depth(start) > 0)) continue;
    const cells = [start];
    seen[start] = 1;
    let deepest = start;
    let touches = false;
    for (let k = 0; k < cells.length; k++) {
      const cell = cells[k]!;
      if (depth(cell) > depth(deepest)) deepest = cell;
      if (onLot[cell]) touches = true;
      const col = cell % cols;
      for (const next of [col > 0 ? cell - 1 : -1, col + 1 < cols ? cell + 1 : -1, cell - cols, cell + cols])
        if (next >= 0 && next < seen.length && !seen[next] && depth(next) > 0) {
          seen[next] = 1;
          cells.push(next);
        }
    }
    const areaFt2 = cells.length * cellFt * cellFt;
    if (touches && depth(deepest) > HOLLOW.depthFt && areaFt2 > HOLLOW.areaFt2)
      found.push({
        areaFt2,
        depthFt: depth(deepest),
        at: cellCentre(grid, deepest % cols, Math.floor(deepest / cols)),
      });
  }
  return found.sort((a, b) => b.areaFt2 - a.areaFt2);
}
