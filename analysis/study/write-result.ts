/** Turns the stages' results into the study document: survey coordinates, rounded, every number finite. */
import { assumptions as accessAssumptions } from "../access/index.js";
import type { Assumption } from "../assumptions.js";
import { assumptions as costAssumptions } from "../cost/index.js";
import { assumptions as drainageAssumptions } from "../drainage/index.js";
import { assumptions as earthworkAssumptions } from "../earthwork/index.js";
import { type Finding, assumptions as findingAssumptions, type Recommendation } from "../findings/index.js";
import type { Point } from "../geometry/plane.js";
import { assumptions as lotAssumptions } from "../lot/index.js";
import { carriesMeasure, inUsUnits } from "../measure.js";
import { assumptions as scheduleAssumptions } from "../schedule/index.js";
import { assumptions as schemeAssumptions } from "../schemes/index.js";
import { assumptions as structureAssumptions } from "../structure/index.js";
import { assumptions as surveyAssumptions, toSurvey } from "../survey/index.js";
import { assumptions as terrainAssumptions } from "../terrain/index.js";
import type { LotStudy, SchemeResult, SchemeStudy, StudyResult } from "./result.js";

/** Changes whenever the same request may give other numbers. */
export const ENGINE_VERSION = "0.1.0";

/** Judgements of the stages that no request changes, in the order of the job. */
export const stageAssumptions: readonly Assumption[] = [
  ...surveyAssumptions,
  ...terrainAssumptions,
  ...lotAssumptions,
  ...earthworkAssumptions,
  ...accessAssumptions,
  ...schemeAssumptions,
  ...drainageAssumptions,
  ...structureAssumptions,
  ...costAssumptions,
  ...scheduleAssumptions,
  ...findingAssumptions,
];

/** Finer than any survey; keeps documents short and free of floating-point tails. */
const DECIMALS = 1e4;

interface Parts extends LotStudy {
  readonly findings: readonly Finding[];
  readonly recommendation: Recommendation;
  readonly assumptions: readonly Assumption[];
}

/**
 * The study document, its sentences in US units, and beside it every sentence that carries a measure, once.
 * @throws {RangeError} naming the path of a number that is not finite: a fault of ours, never of the survey.
 */
export function writeResult({ site, water, schemes, findings, recommendation, assumptions }: Parts): {
  readonly study: StudyResult;
  readonly measured: readonly string[];
} {
  const { request, survey, terrain, lot } = site;
  const { flow: _flow, streams: _streams, lotCatchment: _catchment, ...waterSummary } = water;
  const at = (point: Point): Point => toSurvey(survey.frame, point);
  const result: StudyResult = {
    name: request.name,
    version: ENGINE_VERSION,
    request,
    survey: survey.summary,
    lot: { ...lot.summary, edges: lot.edges, frontageOrigin: lot.frontageOrigin },
    terrain: terrain.summary,
    buildable: lot.buildable,
    water: { ...waterSummary, depressions: water.depressions.map((d) => ({ ...d, at: at(d.at) })) },
    schemes: schemes.map((scheme) => writeScheme(scheme, at)),
    recommendation,
    findings,
    assumptions,
  };
  const measured = new Set<string>();
  const study = rounded(result, measured) as StudyResult | undefined;
  if (study === undefined) throw new RangeError(`${pathNotFinite(result, "study")} is not finite`);
  return { study, measured: [...measured] };
}

function writeScheme(
  { design, access, drainage, structure, cost, schedule }: SchemeStudy,
  at: (point: Point) => Point,
): SchemeResult {
  const { catchment: _catchment, swale, tiers, ...water } = drainage;
  const { foundation, basement, ...held } = structure;
  const { footprint: _footprint, ...drive } = access.reachable ? access.driveway : { footprint: null };
  return {
    id: design.id,
    name: design.name,
    kind: design.kind,
    feasible: design.feasible,
    problems: design.problems.map((p) => (p.freedBy ? `${p.message} ${p.freedBy}` : p.message)),
    problemDetails: design.problems,
    levels: design.levels.map((level) => ({ ...level, ring: level.ring.map(at) })),
    floorAreaFt2: design.floorAreaFt2,
    footprintShape: design.footprintShape,
    garage: design.garage,
    garageChoice: design.garageChoice ?? null,
    straddle: design.straddle,
    slopeUnderHousePct: design.slopeUnderHousePct,
    earthwork: {
      ...design.earthwork,
      overexcavationYd3: design.overexcavationYd3,
      keyBenchYd3: design.keyBenchYd3,
    },
    walls: design.walls.map((wall) => ({ ...wall, line: wall.line.map(at) })),
    driveway:
      access.reachable && "line" in drive
        ? {
            ...drive,
            line: drive.line.map(([east, north, elevFt]) => [...at([east, north]), elevFt] as const),
            garageAt: at(drive.garageAt),
            ...(drive.turnaroundRing ? { turnaroundRing: drive.turnaroundRing.map(at) } : {}),
            ...(drive.steepestAt ? { steepestAt: at(drive.steepestAt) } : {}),
          }
        : null,
    access: access.reachable
      ? { reachable: true, because: access.driveway.car.because, gentlestGradePct: null, helps: [] }
      : {
          reachable: false,
          because: access.because,
          gentlestGradePct: access.gentlestGradePct,
          helps: access.helps,
        },
    drainage: {
      ...water,
      swale: swale && (({ line: _line, ...rest }) => rest)(swale),
      tiers: tiers.map((tier) => ({ ...tier, route: tier.route.map(at) })),
    },
    foundation: { ...foundation, pierAt: foundation.pierAt.map(at) },
    basement: basement && {
      ...basement,
      wells: basement.wells.map((well) => ({ ...well, at: at(well.at) })),
    },
    structure: held,
    cost,
    schedule,
    search: design.search,
    curves: design.curves,
  };
}

/** A copy with every number rounded and every sentence in US units; undefined where a number is not finite. */
function rounded(value: unknown, measured: Set<string>): unknown {
  if (typeof value === "number")
    return Number.isFinite(value) ? Math.round(value * DECIMALS) / DECIMALS : undefined;
  if (typeof value === "string") {
    if (!carriesMeasure(value)) return value;
    measured.add(value);
    return inUsUnits(value);
  }
  if (value === null || typeof value !== "object") return value;
  if (Array.isArray(value)) {
    const items = new Array<unknown>(value.length);
    for (let i = 0; i < items.length; i++) {
      const item = rounded(value[i], measured);
      if (item === undefined) return undefined;
      items[i] = item;
    }
    return items;
  }
  const kept: [string, unknown][] = [];
  for (const key of Object.keys(value)) {
    const given = (value as Record<string, unknown>)[key];
    if (given === undefined) continue;
    const item = rounded(given, measured);
    if (item === undefined) return undefined;
    kept.push([key, item]);
  }
  return Object.fromEntries(kept);
}

/** Where in the document the first number that is not finite stands. */
function pathNotFinite(value: unknown, path: string): string | null {
  if (typeof value === "number") return Number.isFinite(value) ? null : path;
  if (value === null || typeof value !== "object") return null;
  for (const [key, item] of Object.entries(value)) {
    const found = pathNotFinite(item, Array.isArray(value) ? `${path}[${key}]` : `${path}.${key}`);
    if (found) return found;
  }
  return null;
}
