/** Room for a wastewater field and its reserve. All sizes: common practice, no source; the county decides. */

import { cellCentre } from "../geometry/grid.js";
import { polygonsContain } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import type { Structure } from "./structure.js";

export const SEPTIC = {
  galPerBedroomDay: 150,
  galPerFt2Day: 0.4,
  /** Ground between the trenches. */
  spread: 2,
  /** The field and a second one in reserve. */
  fields: 2,
  maxSlopePct: 20,
  /** From springs, flow lines and other water the survey shows. */
  fromWaterFt: 50,
} as const;

export function septicFieldFt2(bedrooms: number): number {
  const { galPerBedroomDay, galPerFt2Day, spread, fields } = SEPTIC;
  return (bedrooms * galPerBedroomDay * spread * fields) / galPerFt2Day;
}

export function septicRoom(site: Site, design: SchemeDesign): Structure["septic"] {
  if (!site.request.brief.septic) return null;
  const needFt2 = septicFieldFt2(site.request.brief.bedrooms);
  const roomFt2 = largestQuietPatchFt2(site, design);
  const fits = roomFt2 >= needFt2;
  return {
    fits,
    areaFt2: roomFt2,
    because: `About ${measure(needFt2, "ft²", 100)} are usual for ${site.request.brief.bedrooms} bedrooms with a reserve; the largest undisturbed piece up to ${SEPTIC.maxSlopePct} % slope has ${measure(roomFt2, "ft²", 100)}. A percolation test and the county decide.`,
  };
}

/** Largest connected piece of usable ground that is gentle and not dug, filled or built on. */
function largestQuietPatchFt2({ terrain, lot, survey }: Site, design: SchemeDesign): number {
  const { grid, values } = terrain.slope;
  const { cols, rows, cellFt } = grid;
  const dug = design.graded.depth;
  const water = survey.features.filter((f) => f.kind === "water");
  const free = new Uint8Array(cols * rows);
  for (let row = 0; row < rows; row++)
    for (let col = 0; col < cols; col++) {
      const cell = row * cols + col;
      if (!(values[cell]! <= SEPTIC.maxSlopePct)) continue;
      const at = cellCentre(grid, col, row);
      const c = Math.floor((at[0] - dug.grid.originEastFt) / dug.grid.cellFt);
      const r = Math.floor((at[1] - dug.grid.originNorthFt) / dug.grid.cellFt);
      const touched =
        c >= 0 &&
        r >= 0 &&
        c < dug.grid.cols &&
        r < dug.grid.rows &&
        !Number.isNaN(dug.values[r * dug.grid.cols + c]!);
      const wet = water.some((f) => Math.hypot(f.at[0] - at[0], f.at[1] - at[1]) < SEPTIC.fromWaterFt);
      if (!touched && !wet && polygonsContain(lot.usable, at)) free[cell] = 1;
    }
  let largest = 0;
  for (let start = 0; start < free.length; start++) {
    if (!free[start]) continue;
    const patch = [start];
    free[start] = 0;
    for (let k = 0; k < patch.length; k++) {
      const cell = patch[k]!;
      const col = cell % cols;
      for (const next of [col > 0 ? cell - 1 : -1, col + 1 < cols ? cell + 1 : -1, cell - cols, cell + cols])
        if (next >= 0 && next < free.length && free[next]) {
          free[next] = 0;
          patch.push(next);
        }
    }
    largest = Math.max(largest, patch.length * cellFt * cellFt);
  }
  return largest;
}
