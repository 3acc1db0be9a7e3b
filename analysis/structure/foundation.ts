/** How much of which foundation: orders of magnitude for a first talk, no design. */
import type { Access } from "../access/access.js";
import type { Point } from "../geometry/plane.js";
import { perimeterFt } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import { toYd3 } from "../units.js";
import type { FoundationChoice } from "./choose-foundation.js";
import { edgesOf, levelsOf, ringsAreaFt2 } from "./house-facts.js";
import { type PierLayout, pierLayout, pierRow } from "./pier-layout.js";
import type { Basement, Foundation } from "./structure.js";

/** All sizes: common practice, no source. */
const SIZES = {
  pierDiameterIn: 18,
  gradeBeamFt2: 3, // 18 × 24 in
  slabFt: 5 / 12,
  perimeterFootingFt2: 1.5, // 12 × 18 in
  steppedFootingFt2: 2.5, // footing and stem wall of a raised floor
  basementWallFt: 10 / 12,
  basementFootingFt2: 3, // 3 ft × 12 in
  siteWallFt2PerFt: 1.1, // stem and footing per foot of height
  overbreak: 1.1,
} as const;
/** Soil a pier goes through at least before it counts as in firm ground, and its length in that: low, likely, high. Common practice, no source. */
const LEAST_LOOSE_FT = 3;
const INTO_FIRM_FT = [8, 10, 12] as const;
/** Soil that creeps on steep ground asks for longer piers. Common practice, no source. */
const CREEP = { aboveSlopePct: 30, times: 1.3 } as const;
/** Depth of a pier where nobody knows how deep firm ground lies: low, likely, high. Common practice, no source. */
export const UNKNOWN_DEPTH_FT = [12, 16, 25] as const;
/** Concrete on a truck. Common practice, no source. */
export const LOAD_YD3 = 7.5;
const PUMP_SLOPE_PCT = 10;

export function foundationOf(
  site: Site,
  design: SchemeDesign,
  access: Access,
  choice: FoundationChoice,
  basement: Basement | null,
): Foundation {
  const house = levelsOf(design, "house");
  const below = levelsOf(design, "basement");
  const garageFt2 = ringsAreaFt2(levelsOf(design, "garage"));
  const houseFt2 = ringsAreaFt2(house);
  const layout = piersOf(design, choice);
  const pierDepthFt = pierDepths(site, design);
  const onSlab = choice.kind === "slab" && below.length === 0;
  const slabFt2 = garageFt2 + (below.length ? ringsAreaFt2(below) : onSlab ? houseFt2 : 0);
  const raisedFloorFt2 = onSlab ? 0 : houseFt2;
  const elements = concrete(design, choice, { layout, pierDepthFt, slabFt2, basement });
  const heavy = access.reachable && access.driveway.heavyVehicle.ok;
  return {
    ...choice,
    piers: layout.piers.length,
    pierDepthFt,
    pierDiameterIn: SIZES.pierDiameterIn,
    pierAt: layout.piers,
    gradeBeamFt: layout.beamFt,
    slabFt2,
    raisedFloorFt2,
    concreteYd3: elements.reduce((sum, e) => sum + e.yd3, 0),
    concreteTrucks: elements.reduce((sum, e) => sum + trucksForPour(e.yd3), 0),
    concreteByElement: elements,
    pump:
      choice.kind !== "slab" ||
      basement !== null ||
      !heavy ||
      design.slopeUnderHousePct.mean > PUMP_SLOPE_PCT,
  };
}

/** The first and the last load of a pour come short: ceil(yd³ ÷ 7.5) + 1. */
export function trucksForPour(yd3: number): number {
  return yd3 <= 0 ? 0 : Math.ceil(yd3 / LOAD_YD3) + 1;
}

/** Concrete of n round piers: n·π·d²/4·depth, more by the overbreak of the hole. */
export function pierConcreteYd3(piers: number, diameterIn: number, depthFt: number): number {
  return toYd3(piers * (Math.PI / 4) * (diameterIn / 12) ** 2 * depthFt * SIZES.overbreak);
}

function piersOf(design: SchemeDesign, choice: FoundationChoice): PierLayout {
  if (choice.kind !== "pier-and-grade-beam") return { piers: [], beamFt: 0 };
  const basements = levelsOf(design, "basement");
  if (basements.length > 0 && choice.rule === "F7")
    return together(
      basements.flatMap(({ ring }) =>
        edgesOf(ring, design.downhill).flatMap((edge) =>
          edge.side === "downhill" ? [pierRow(edge.from, edge.to)] : [],
        ),
      ),
    );
  const rings = basements.length > 0 ? basements : levelsOf(design, "house");
  return together(rings.map((level) => pierLayout(level.ring, level.rotationDeg)));
}

function together(layouts: readonly PierLayout[]): PierLayout {
  const piers: Point[] = [];
  for (const layout of layouts)
    for (const p of layout.piers)
      if (!piers.some((q) => Math.hypot(p[0] - q[0], p[1] - q[1]) < 1)) piers.push(p);
  return { piers, beamFt: layouts.reduce((sum, l) => sum + l.beamFt, 0) };
}

function pierDepths(site: Site, design: SchemeDesign): [number, number, number] {
  const firm = site.request.soil.depthToFirmFt ?? site.request.soil.depthToRockFt;
  const creep = design.slopeUnderHousePct.p90 > CREEP.aboveSlopePct ? CREEP.times : 1;
  const at = (i: 0 | 1 | 2) =>
    Math.round(
      creep * (firm === null ? UNKNOWN_DEPTH_FT[i] : Math.max(firm, LEAST_LOOSE_FT) + INTO_FIRM_FT[i]),
    );
  return [at(0), at(1), at(2)];
}

interface Quantities {
  readonly layout: PierLayout;
  readonly pierDepthFt: readonly [number, number, number];
  readonly slabFt2: number;
  readonly basement: Basement | null;
}

function concrete(
  design: SchemeDesign,
  { kind }: FoundationChoice,
  { layout, pierDepthFt, slabFt2, basement }: Quantities,
) {
  const house = levelsOf(design, "house");
  const aroundFt = house.reduce((sum, level) => sum + perimeterFt(level.ring), 0);
  const apartFt =
    design.garage === "detached"
      ? levelsOf(design, "garage").reduce((sum, level) => sum + perimeterFt(level.ring), 0)
      : 0;
  const siteWallFt2 = design.walls.filter((w) => w.kind === "site").reduce((sum, w) => sum + w.faceFt2, 0);
  return [
    { element: "piers", yd3: pierConcreteYd3(layout.piers.length, SIZES.pierDiameterIn, pierDepthFt[1]) },
    { element: "grade beams", yd3: toYd3(layout.beamFt * SIZES.gradeBeamFt2) },
    { element: "slabs", yd3: toYd3(slabFt2 * SIZES.slabFt) },
    {
      element: "footings",
      yd3: toYd3(
        apartFt * SIZES.perimeterFootingFt2 +
          (basement
            ? 0 // under the walls, counted with them
            : kind === "slab"
              ? aroundFt * SIZES.perimeterFootingFt2
              : kind === "raised"
                ? aroundFt * SIZES.steppedFootingFt2
                : 0),
      ),
    },
    {
      element: "basement walls",
      yd3: basement
        ? toYd3(
            basement.wallFaceFt2 * SIZES.basementWallFt + basement.buriedWallFt * SIZES.basementFootingFt2,
          )
        : 0,
    },
    { element: "walls outside", yd3: toYd3(siteWallFt2 * SIZES.siteWallFt2PerFt) },
  ].filter((e) => e.yd3 > 0);
}
