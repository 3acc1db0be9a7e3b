/** A house about the middle of an inclined plane, made by hand: every height is known in closed form. */
import type { Access } from "../../analysis/access/access.js";
import type { Drainage } from "../../analysis/drainage/drainage.js";
import type { Point, Ring } from "../../analysis/geometry/plane.js";
import type { Site } from "../../analysis/lot/site.js";
import type { RequestInput } from "../../analysis/request/index.js";
import type { Level, SchemeDesign } from "../../analysis/schemes/scheme.js";
import { chooseStructure } from "../../analysis/structure/index.js";
import { planeSite } from "../support/sites.js";

export const noAccess: Access = {
  reachable: false,
  gentlestGradePct: null,
  pinchAt: null,
  because: "not asked",
  helps: [],
  tried: [],
};
export const drainage = { catchmentFt2: 0 } as Drainage;
const MIDDLE: Point = [150, 150];

/** A house W × D ft about the middle of a 300 × 300 ft plane that rises north; its floor lies `overDownhillFt` over the ground at its downhill face. */
export function house(
  site: Site,
  {
    gradePct,
    widthFt = 48,
    depthFt = 32,
    basement = true,
    overDownhillFt = 0.67,
    fillFt = 0,
  }: {
    gradePct: number;
    widthFt?: number;
    depthFt?: number;
    basement?: boolean;
    overDownhillFt?: number;
    fillFt?: number;
  },
): SchemeDesign {
  const [cx, cy] = MIDDLE;
  const ring: Ring = [
    [cx - widthFt / 2, cy - depthFt / 2],
    [cx + widthFt / 2, cy - depthFt / 2],
    [cx + widthFt / 2, cy + depthFt / 2],
    [cx - widthFt / 2, cy + depthFt / 2],
  ];
  const downhillGroundFt = 500 + (gradePct / 100) * (-depthFt / 2);
  const floorFt = downhillGroundFt + overDownhillFt;
  const level = (name: string, role: Level["role"], floorElevationFt: number): Level => ({
    name,
    role,
    ring,
    elevationFt: floorElevationFt - 0.67,
    floorElevationFt,
    rotationDeg: 90,
  });
  const { grid } = site.terrain.elevation;
  return {
    id: "x",
    name: "x",
    kind: basement ? "daylight-basement" : "level-pad",
    feasible: true,
    problems: [],
    levels: basement
      ? [level("main", "house", floorFt + 10), level("basement", "basement", floorFt)]
      : [level("main", "house", floorFt)],
    footprint: ring,
    outline: ring,
    footprintShape: "rectangle",
    floorAreaFt2: 2 * widthFt * depthFt,
    garageAt: [cx, cy],
    garageFloorFt: floorFt,
    garage: "none",
    downhill: [0, -1],
    earthwork: {
      maxCutFt: 0,
      temporaryCutFt: 12,
      leavesLot: false,
      truckloads: 0,
    } as SchemeDesign["earthwork"],
    graded: {
      cut: [],
      fill: [],
      depth: { grid, values: new Float32Array(grid.cols * grid.rows).fill(Number.NaN) },
    },
    walls: [],
    temporary: null,
    straddle: { cutSharePct: 100, fillSharePct: 0, maxFillUnderHouseFt: fillFt, daylightUnderHouse: false },
    slopeUnderHousePct: { mean: gradePct, p90: gradePct },
    overexcavationYd3: 0,
    keyBenchYd3: 0,
    objectiveUsd: 0,
    search: null,
    curves: null,
  };
}

export const plane = (gradePct: number, request: Partial<RequestInput> = {}) =>
  planeSite({ gradePct, widthFt: 300, depthFt: 300, spacingFt: 20, request });
export const onPlane = (
  gradePct: number,
  shape: Partial<Parameters<typeof house>[1]> = {},
  request: Partial<RequestInput> = {},
) => {
  const site = plane(gradePct, request);
  const design = house(site, { gradePct, ...shape });
  return chooseStructure(site, design, noAccess, drainage);
};
