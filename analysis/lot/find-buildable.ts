/** The lot stage: what is left to build on, and what took the rest. */
import { differenceOf, intersectionOf, openedBy } from "../geometry/clip.js";
import { areaFt2, type MultiPolygon } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { StudyRequest } from "../request/request.js";
import type { NoBuildArea, Survey } from "../survey/survey.js";
import type { Terrain } from "../terrain/terrain.js";
import { areaBySlopeLimit } from "./area-by-slope-limit.js";
import { gentlePart } from "./gentle-ground.js";
import type { Lot, WaterfallStep } from "./lot.js";
import { describeLot } from "./lot-line.js";
import { insideSetbacks } from "./setbacks.js";

/** Coverage above this is the whole lot: what is missing is rounding. */
const FULL_COVERAGE_PCT = 100 - 1e-6;

/**
 * Takes from the lot, in this order: setbacks, easements and no-build areas, tree circles, watercourse strips, ground
 * the survey does not show, ground steeper than the limit, and what is narrower than the minimum width (where no disc
 * of that diameter fits). The steps add up to the lot; polygons are exact to about 0.001 ft, but for the rounded corners of the
 * last step, drawn by chords up to 0.02 ft inside.
 * A larger setback or a lower limit never leaves more.
 */
export function findBuildable(survey: Survey, terrain: Terrain, request: StudyRequest): Lot {
  const { boundary } = survey;
  const { rules } = request;
  const line = describeLot(survey, request);

  const waterfall = new Waterfall([[boundary]]);
  const inside = insideSetbacks(
    boundary,
    line.edges.map(({ setbackFt }) => setbackFt),
  );
  waterfall.take("setback", inside);
  for (const [reason, kinds] of NO_BUILD_STEPS) {
    const areas = survey.noBuild.filter(({ kind }) => kinds.includes(kind));
    if (areas.length > 0)
      waterfall.take(
        reason,
        differenceOf(
          waterfall.remaining,
          areas.flatMap(({ polygons }) => polygons),
        ),
      );
  }
  const surveyed =
    terrain.coveragePct >= FULL_COVERAGE_PCT
      ? waterfall.remaining
      : intersectionOf(waterfall.remaining, terrain.surveyed);
  waterfall.take("unsurveyed", surveyed);
  const usable = waterfall.remaining;

  waterfall.take("slope", gentlePart(usable, terrain, rules.slopeLimitPct));
  const buildable = openedBy(waterfall.remaining, rules.minBuildableWidthFt);
  waterfall.take("narrow", buildable);

  const patches = buildable.map((polygon) => areaFt2([polygon]));
  const buildableFt2 = areaFt2(buildable);
  return {
    ...line,
    buildable: {
      slopeLimitPct: rules.slopeLimitPct,
      areaFt2: buildableFt2,
      sharePct: (100 * buildableFt2) / line.summary.areaFt2,
      largestPatchFt2: Math.max(0, ...patches),
      patches: patches.length,
      steps: waterfall.steps,
      bySlopeLimit: areaBySlopeLimit(usable, terrain.slope, rules, buildableFt2),
    },
    insideSetbacks: inside,
    usable,
    buildablePolygons: buildable,
    buildableMask: scanPolygons(terrain.elevation.grid, buildable),
  };
}

const NO_BUILD_STEPS: readonly [WaterfallStep["reason"], readonly NoBuildArea["kind"][]][] = [
  ["easement", ["easement", "no-build"]],
  ["tree", ["tree"]],
  ["watercourse", ["watercourse"]],
];

/** What remains, and the record of what each step removed. */
class Waterfall {
  readonly steps: WaterfallStep[];
  #ground: MultiPolygon;
  #areaFt2: number;

  constructor(lot: MultiPolygon) {
    this.#ground = lot;
    this.#areaFt2 = areaFt2(lot);
    this.steps = [{ reason: "lot", removedFt2: 0, remainingFt2: this.#areaFt2 }];
  }

  get remaining(): MultiPolygon {
    return this.#ground;
  }

  take(reason: WaterfallStep["reason"], left: MultiPolygon): void {
    const remainingFt2 = Math.min(this.#areaFt2, areaFt2(left));
    this.steps.push({ reason, removedFt2: this.#areaFt2 - remainingFt2, remainingFt2 });
    this.#ground = left;
    this.#areaFt2 = remainingFt2;
  }
}
