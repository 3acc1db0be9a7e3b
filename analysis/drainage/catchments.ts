/** Ground whose water runs to a place. */
import { nestedOutlines } from "../geometry/nested-outlines.js";
import type { MultiPolygon } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { FlowField } from "./flow-field.js";

export interface Catchment {
  /** Ground above the place, the place itself not counted. */
  readonly aboveFt2: number;
  readonly placeFt2: number;
  readonly polygons: MultiPolygon;
  /** True when part of it lies at the edge of the survey: more may come from beyond. */
  readonly lowerBound: boolean;
  /** Longest way of water to the place, and the fall along it. */
  readonly longestFt: number;
  readonly fallFt: number;
}

/** Everything that drains (D8) into the given polygons. */
export function catchmentOf(flow: FlowField, place: MultiPolygon): Catchment {
  const { grid, order, receiver, edge, filledFt } = flow;
  const here = scanPolygons(grid, place).values;
  const inside = new Float32Array(here.length);
  const runFt = new Float64Array(here.length);
  const footFt = new Float64Array(here.length);
  let above = 0;
  let on = 0;
  let lowerBound = false;
  let longestFt = 0;
  let fallFt = 0;
  for (const cell of order) {
    if (here[cell]) {
      inside[cell] = 1;
      footFt[cell] = filledFt[cell]!;
      on++;
    } else {
      const to = receiver[cell]!;
      if (to < 0 || !inside[to]) continue;
      inside[cell] = 1;
      above++;
      runFt[cell] = runFt[to]! + stepFt(cell, to, grid.cols, grid.cellFt);
      footFt[cell] = footFt[to]!;
      if (runFt[cell]! > longestFt) {
        longestFt = runFt[cell]!;
        fallFt = filledFt[cell]! - footFt[cell]!;
      }
    }
    if (edge[cell]) lowerBound = true;
  }
  const cellFt2 = grid.cellFt ** 2;
  return {
    aboveFt2: above * cellFt2,
    placeFt2: on * cellFt2,
    polygons: above === 0 ? [] : nestedOutlines({ grid, values: inside }, [0.5])[0]!,
    lowerBound,
    longestFt,
    fallFt,
  };
}

function stepFt(from: number, to: number, cols: number, cellFt: number): number {
  const across = Math.abs((from % cols) - (to % cols));
  const up = Math.abs(Math.floor(from / cols) - Math.floor(to / cols));
  return cellFt * Math.hypot(across, up);
}
