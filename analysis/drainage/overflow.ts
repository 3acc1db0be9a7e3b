/** Where water goes over the ground when an inlet is blocked. */
import { cellCentre } from "../geometry/grid.js";
import { distanceToRingFt, type Point, ringContains } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { Site } from "../lot/site.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import type { Drainage, LotWater } from "./drainage.js";

/** Ground that ends this near the lot line reaches it, cells. */
const REACHES_CELLS = 2;

/**
 * From the lowest ground at the edge of the pad, by the way water takes over the natural ground (D8 on filled hollows),
 * to where it leaves the lot. Null where the surveyed ground ends before.
 */
export function overflowFrom(
  { survey, lot }: Site,
  { flow }: LotWater,
  design: SchemeDesign,
): Drainage["overflow"] {
  const { grid, filledFt, receiver } = flow;
  const { cols, rows } = grid;
  const pad = scanPolygons(grid, [[design.outline]]).values;
  let cell = -1;
  for (let i = 0; i < pad.length; i++) {
    if (!pad[i] || Number.isNaN(filledFt[i]!)) continue;
    if (cell < 0 || filledFt[i]! < filledFt[cell]!) cell = i;
  }
  const line: Point[] = [];
  const centre = (i: number): Point => cellCentre(grid, i % cols, Math.floor(i / cols));
  for (let steps = 0; cell >= 0 && steps < cols * rows; steps++) {
    const at = centre(cell);
    line.push(at);
    if (!ringContains(survey.boundary, at)) break;
    cell = receiver[cell]!;
  }
  const end = line.at(-1);
  if (!end || line.length < 2) return null;
  const known =
    !ringContains(survey.boundary, end) ||
    distanceToRingFt(survey.boundary, end) <= REACHES_CELLS * grid.cellFt;
  if (!known) return null;
  const edge = survey.boundary.reduce(
    (best, a, i) => {
      const ft = distanceToRingFt([a, survey.boundary[(i + 1) % survey.boundary.length]!], end);
      return ft < best.ft ? { i, ft } : best;
    },
    { i: 0, ft: Infinity },
  ).i;
  const toward = lot.edges[edge]!.frontage ? "street" : "neighbor";
  return {
    line,
    toward,
    edge: survey.inputEdge[edge]!,
    words:
      toward === "street"
        ? "When an inlet or a ditch is blocked, water runs over the ground to the street. Grade that way open, with the floor above it."
        : `When an inlet or a ditch is blocked, water runs over the ground and leaves the lot over side ${survey.inputEdge[edge]! + 1}, onto the neighbor's ground. Keep that way open and the floor above it, and ask the civil engineer how it may leave.`,
  };
}
