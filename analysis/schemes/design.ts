/** The chosen trial computed exactly: rings, volumes, walls, dig, and what they mean for the house. */
import {
  balanceEarth,
  type Dig,
  digBasement,
  type Earthwork,
  type Footprint,
  gradedGround,
  prepareFootprint,
  stockpileFt2,
  volumeSigmaFt3,
} from "../earthwork/index.js";
import { offsetOf, unionOf } from "../geometry/clip.js";
import type { Ring } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { toYd3 } from "../units.js";
import type { DesignCore } from "./design-core.js";
import type { ExactTrial } from "./exact-trial.js";
import { cornersOf, footprintRing } from "./footprint-outline.js";
import type { Rect } from "./footprints.js";
import type { LevelPart, Trial } from "./model.js";
import { onLot } from "./place.js";
import type { SchemeDesign, Straddle } from "./scheme.js";
import { DIG_BELOW_FLOOR_FT } from "./sketch.js";

/** Parts this near to each other touch. */
const TOUCHING_FT = 0.01;
/** A house with at least this share on either side of the line between cut and fill straddles it. */
const STRADDLE_SHARE = 0.02;
/** Transition pads: the cut side is dug out to this depth and put back, so that both sides settle alike; with more fill piers carry the house. Common practice, no source. */
const TRANSITION_DIG_FT = 3;

/** All of a SchemeDesign that one exact trial holds; search record, curves and words come from outside. */
export function drawDesign(
  { trial, model, apart, keyFt3: keyedFt3, surface }: ExactTrial,
  site: Site,
  core: DesignCore,
): Omit<SchemeDesign, "id" | "name" | "feasible" | "problems" | "search" | "curves"> {
  const { terrain, request, survey } = site;
  const { tin } = terrain;
  const { rules, soil, haul, brief } = request;
  const { place, shape, layout } = trial;
  const parts = model.levels(trial);
  const under = prepareFootprint(
    tin,
    cornersOf(shape.house).map((p) => onLot(place, p)),
  );
  const basement = parts.find(({ role }) => role === "basement");
  const ringOf = ({ rect }: LevelPart): Ring => cornersOf(rect).map((p) => onLot(place, p));
  const underPart = (part: LevelPart) =>
    isSame(part.rect, shape.house) ? under : prepareFootprint(tin, ringOf(part));
  const underBasement = basement ? underPart(basement) : null;

  const dig: Dig | null =
    basement && underBasement
      ? digBasement(tin, {
          ring: ringOf(basement),
          under: underBasement,
          subgradeFt: basement.floorElevationFt - DIG_BELOW_FLOOR_FT,
          workingSpaceFt: rules.workingSpaceFt,
          temporaryBatter: rules.temporaryBatter,
          limit: survey.boundary,
        })
      : null;
  const cutFt3 = surface?.cutFt3 ?? 0;
  const fillFt3 = surface?.fillFt3 ?? 0;
  const cutFt2 = surface?.cutFt2 ?? 0;
  const topsoilFt3 = rules.topsoilFt * (surface?.disturbedFt2 ?? 0);
  const balanced = balanceEarth(
    {
      bankCutFt3: cutFt3,
      compactedFillFt3: fillFt3,
    },
    soil,
    haul,
  );
  const backfillFt3 = dig?.backfillFt3 ?? 0;
  const earthwork: Earthwork = {
    ...balanced,
    maxCutFt: surface?.maxCutFt ?? 0,
    meanCutFt: cutFt2 > 0 ? cutFt3 / cutFt2 : 0,
    maxFillFt: surface?.maxFillFt ?? 0,
    disturbedFt2: surface?.disturbedFt2 ?? 0,
    uncertaintyYd3: surface
      ? toYd3(
          volumeSigmaFt3(
            layout.areaFt2 + (apart?.layout.areaFt2 ?? 0),
            terrain.groundSigmaFt,
            survey.summary.medianSpacingFt,
          ),
        )
      : 0,
    digYd3: toYd3(dig?.digFt3 ?? 0),
    backfillYd3: toYd3(backfillFt3),
    stockpileFt2: backfillFt3 > 0 ? stockpileFt2(backfillFt3, soil) : 0,
    temporaryCutFt: dig?.heightFt ?? 0,
    temporaryReachFt: dig?.reachFt ?? 0,
    temporaryLeavesLot: dig?.leavesLimit ?? false,
    leavesLot: (surface?.leavesLimit ?? false) || (dig?.leavesLimit ?? false),
    topsoilYd3: toYd3(topsoilFt3),
  };
  const houseLevels = parts.filter(({ role }) => role === "house");
  // a raised house bears on piers, a dug one on the bottom of its dig
  const bearing = model.kind === "pier-raised" ? [] : basement ? [basement] : houseLevels;
  const straddle = straddleOf(
    bearing.map((part) => ({
      under: part === basement && underBasement ? underBasement : underPart(part),
      levelFt: part.elevationFt,
    })),
  );
  return {
    ...core,
    outline: outlineOf(trial),
    footprintShape: shape.name,
    floorAreaFt2: brief.floorAreaFt2,
    earthwork,
    graded: surface ? gradedGround(surface, core.graded.depth) : { cut: [], fill: [], ...core.graded },
    temporary: dig ? { outline: dig.outline, heightFt: dig.heightFt, reachFt: dig.reachFt } : null,
    straddle,
    slopeUnderHousePct: slopeUnder(under, site),
    overexcavationYd3: overexcavationYd3(under.coveredFt2, straddle),
    keyBenchYd3: toYd3(keyedFt3),
  };
}

/** Ground the scheme takes up, house and garage included; parts that only touch are joined. */
function outlineOf({ layout, place, shape }: Trial): Ring {
  const rects = [
    ...layout.tiles.map(({ rect }) => rect),
    shape.house,
    ...(shape.garage ? [shape.garage] : []),
  ];
  const parts = unionOf(rects.map((rect) => cornersOf(rect).map((p) => onLot(place, p))));
  const joined = parts.length > 1 ? offsetOf(offsetOf(parts, TOUCHING_FT), -TOUCHING_FT) : parts;
  return joined[0]?.[0] ?? footprintRing(place, shape);
}

/** Steepness of the ground under a footprint; of the whole lot where the survey shows none of it. */
export function slopeUnder(
  {
    coveredFt2,
    slopeMeanPct,
    slopeP90Pct,
  }: { readonly coveredFt2: number; readonly slopeMeanPct: number; readonly slopeP90Pct: number },
  { terrain }: Site,
): SchemeDesign["slopeUnderHousePct"] {
  const { meanSlopePct } = terrain.summary;
  return coveredFt2 > 0
    ? { mean: slopeMeanPct, p90: slopeP90Pct }
    : { mean: meanSlopePct, p90: meanSlopePct };
}

function isSame(a: Rect, b: Rect): boolean {
  return a.u0 === b.u0 && a.v0 === b.v0 && a.u1 === b.u1 && a.v1 === b.v1;
}

/** How pads that bear on the ground lie on cut and fill. */
export function straddleOf(
  pads: readonly { readonly under: Footprint; readonly levelFt: number }[],
): Straddle {
  let cutFt2 = 0;
  let fillFt2 = 0;
  let maxFillFt = 0;
  for (const { under, levelFt } of pads) {
    const moved = under.evaluate(levelFt);
    cutFt2 += moved.cutFt2;
    fillFt2 += moved.fillFt2;
    maxFillFt = Math.max(maxFillFt, moved.maxFillFt);
  }
  const all = cutFt2 + fillFt2;
  const share = (part: number) => (all > 0 ? part / all : 0);
  return {
    cutSharePct: 100 * share(cutFt2),
    fillSharePct: 100 * share(fillFt2),
    maxFillUnderHouseFt: maxFillFt,
    daylightUnderHouse: share(cutFt2) > STRADDLE_SHARE && share(fillFt2) > STRADDLE_SHARE,
  };
}

/** Cut dug out under a house that straddles the line, and put back compacted; 0 where deeper fill asks for piers anyway. */
function overexcavationYd3(houseFt2: number, straddle: Straddle): number {
  if (!straddle.daylightUnderHouse || straddle.maxFillUnderHouseFt > TRANSITION_DIG_FT) return 0;
  return toYd3(
    houseFt2 * (straddle.cutSharePct / 100) * Math.min(TRANSITION_DIG_FT, straddle.maxFillUnderHouseFt),
  );
}
