/** The chosen trial as far as limits and drives look at it: levels, walls, door, and the ground as graded. */
import { gradedDepth } from "../earthwork/index.js";
import type { Site } from "../lot/site.js";
import { downhillUnit, type ExactTrial } from "./exact-trial.js";
import { cornersOf, footprintRing } from "./footprint-outline.js";
import { houseWalls } from "./house-walls.js";
import type { Judge } from "./model.js";
import { onLot } from "./place.js";
import type { Level, SchemeDesign } from "./scheme.js";

/** What tells whether a design keeps the rules and whether a car reaches it; the rest is drawn of the one that is shown. */
export type DesignCore = Pick<
  SchemeDesign,
  | "kind"
  | "levels"
  | "footprint"
  | "garageAt"
  | "garageFloorFt"
  | "garage"
  | "downhill"
  | "walls"
  | "objectiveUsd"
> & { readonly graded: Pick<SchemeDesign["graded"], "depth"> };

export function coreOf(
  { trial, model, surface, walls: siteWalls, costUsd }: ExactTrial,
  site: Site,
  judge: Judge,
): DesignCore {
  const { place, shape } = trial;
  const parts = model.levels(trial);
  const basement = parts.find(({ role }) => role === "basement");
  const downhill = downhillUnit(trial, judge);
  const carFloor = parts.find(({ role }) => role === "garage") ?? parts.find(({ role }) => role === "house")!;
  return {
    kind: model.kind,
    levels: parts.map(
      (part): Level => ({
        name: part.name,
        role: part.role,
        ring: cornersOf(part.rect).map((p) => onLot(place, p)),
        elevationFt: part.elevationFt,
        floorElevationFt: part.floorElevationFt,
        rotationDeg: rotationDeg(place.turnRad),
      }),
    ),
    footprint: footprintRing(place, shape),
    garageAt: onLot(place, shape.doors[trial.doorIndex]!.at),
    garageFloorFt: carFloor.floorElevationFt,
    garage: site.request.brief.garageCars === 0 ? "none" : "attached",
    downhill,
    graded: { depth: surface ? gradedDepth(surface) : { grid: EMPTY_GRID, values: new Float32Array(0) } },
    walls: [...siteWalls, ...houseWalls(trial, basement, site, judge, downhill)],
    objectiveUsd: costUsd,
  };
}

const EMPTY_GRID = { originEastFt: 0, originNorthFt: 0, cellFt: 1, cols: 0, rows: 0 };

/** Direction of the u axis, clockwise from north, in [0, 180). */
export function rotationDeg(turnRad: number): number {
  const deg = 90 - (turnRad * 180) / Math.PI;
  return ((deg % 180) + 180) % 180;
}
