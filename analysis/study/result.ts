/** The study as it leaves the analysis: the JSON of the answer, and the pictures beside it. */
import type { Access, Driveway } from "../access/access.js";
import type { Assumption, Problem } from "../assumptions.js";
import type { SchemeCost } from "../cost/cost.js";
import type { Drainage, LotWater } from "../drainage/drainage.js";
import type { Earthwork, Wall } from "../earthwork/earthwork.js";
import type { Finding, Recommendation } from "../findings/finding.js";
import type { Point, Ring } from "../geometry/plane.js";
import type { BuildableSummary, Lot, LotSummary } from "../lot/lot.js";
import type { Site } from "../lot/site.js";
import type { Pictures } from "../pictures/pictures.js";
import type { StudyRequest } from "../request/request.js";
import type { Schedule } from "../schedule/schedule.js";
import type { GarageChoice, SchemeDesign, SchemeKind, Straddle } from "../schemes/scheme.js";
import type { Structure } from "../structure/structure.js";
import type { SurveySummary } from "../survey/survey.js";
import type { TerrainSummary } from "../terrain/terrain.js";

/** One scheme with everything later stages found out about it; local feet, typed arrays. */
export interface SchemeStudy {
  readonly design: SchemeDesign;
  readonly access: Access;
  readonly drainage: Drainage;
  readonly structure: Structure;
  readonly cost: SchemeCost;
  readonly schedule: Schedule;
}

/** `schemes[]` of the answer: survey coordinates, no rasters. */
export interface SchemeResult {
  readonly id: string;
  readonly name: string;
  readonly kind: SchemeKind;
  readonly feasible: boolean;
  /** In plain words; `problemDetails` holds code and remedy. */
  readonly problems: readonly string[];
  readonly problemDetails: SchemeDesign["problems"];
  readonly levels: readonly {
    readonly name: string;
    readonly role: string;
    readonly ring: Ring;
    readonly elevationFt: number;
    readonly floorElevationFt: number;
    readonly rotationDeg: number;
  }[];
  readonly floorAreaFt2: number;
  readonly footprintShape: string;
  readonly garage: SchemeDesign["garage"];
  readonly garageChoice: GarageChoice | null;
  readonly straddle: Straddle;
  readonly slopeUnderHousePct: SchemeDesign["slopeUnderHousePct"];
  readonly earthwork: Earthwork & { readonly overexcavationYd3: number; readonly keyBenchYd3: number };
  readonly walls: readonly (Omit<Wall, "line"> & { readonly line: readonly Point[] })[];
  readonly driveway: Omit<Driveway, "footprint"> | null;
  readonly access: {
    readonly reachable: boolean;
    readonly because: string;
    readonly gentlestGradePct: number | null;
    readonly helps: readonly string[];
  };
  readonly drainage: Omit<Drainage, "catchment" | "swale"> & {
    readonly swale: Omit<NonNullable<Drainage["swale"]>, "line"> | null;
  };
  readonly foundation: Structure["foundation"];
  readonly basement: Structure["basement"];
  readonly structure: Omit<Structure, "foundation" | "basement">;
  readonly cost: SchemeCost;
  readonly schedule: Schedule;
  readonly search: SchemeDesign["search"];
  readonly curves: SchemeDesign["curves"];
}

export interface StudyResult {
  readonly name: string;
  readonly version: string;
  readonly request: StudyRequest;
  readonly survey: SurveySummary;
  readonly lot: LotSummary & { readonly edges: Lot["edges"]; readonly frontageOrigin: Lot["frontageOrigin"] };
  readonly terrain: TerrainSummary;
  readonly buildable: BuildableSummary;
  readonly water: Omit<LotWater, "flow" | "streams" | "lotCatchment">;
  readonly schemes: readonly SchemeResult[];
  readonly recommendation: Recommendation;
  readonly findings: readonly Finding[];
  readonly assumptions: readonly Assumption[];
}

/** What the findings and the pictures are made from. */
export interface LotStudy {
  readonly site: Site;
  readonly water: LotWater;
  readonly schemes: readonly SchemeStudy[];
}

export type StudyOutcome =
  | { readonly ok: true; readonly study: StudyResult; readonly pictures: Pictures }
  | { readonly ok: false; readonly problems: readonly Problem[] };
