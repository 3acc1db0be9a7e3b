/** Ways to build on the slope: what each proposes to place, dig and hold back. Geometry in local feet. */
import type { Earthwork, GradedGround, Wall } from "../earthwork/earthwork.js";
import type { Point, Polygon, Ring } from "../geometry/plane.js";

export type SchemeKind =
  | "level-pad"
  | "stepped-pad"
  | "daylight-basement"
  | "full-basement"
  | "pier-raised"
  | "fixed-pad";

export interface Level {
  /** "main", "upper", "lower", "basement", "garage". */
  readonly name: string;
  readonly role: "house" | "basement" | "garage";
  readonly ring: Ring;
  /** Graded surface of this level (pad or subgrade top), ft. */
  readonly elevationFt: number;
  readonly floorElevationFt: number;
  /** Direction of the long side, degrees clockwise from north, in [0, 180). */
  readonly rotationDeg: number;
}

export interface SchemeProblem {
  /** "buildable", "site-wall", "basement-wall", "height", "batter-leaves-lot", "fill-too-steep", "no-drive", "drive-wall", "slope-setback" … */
  readonly code: string;
  readonly message: string;
  /** What was tried that would free it, in words, with the value: "fits with a 15 ft rear setback". */
  readonly freedBy?: string;
  /** The same for programs: which rule was changed to what. */
  readonly freed?: { readonly rule: FreedRule; readonly value: number };
}

export type FreedRule = "footprint" | "slope-limit" | "setback" | "site-wall" | "drive-grade" | "height";

/** Where the car stops, and what else was tried. */
export interface GarageChoice {
  readonly tried: readonly {
    readonly garage: "attached" | "detached";
    readonly reachable: boolean;
    /** Likely cost of the ground work with the drive, the walk and the stairs; null where no car reaches it. */
    readonly siteUsd: number | null;
    readonly because: string;
  }[];
  /** By how much the chosen one costs less than the other; null where only one can be reached. */
  readonly savesUsd: number | null;
}

/** How a house sits across the line between cut and fill. */
export interface Straddle {
  readonly cutSharePct: number;
  readonly fillSharePct: number;
  readonly maxFillUnderHouseFt: number;
  readonly daylightUnderHouse: boolean;
}

export interface SchemeDesign {
  readonly id: string;
  readonly name: string;
  readonly kind: SchemeKind;
  readonly feasible: boolean;
  readonly problems: readonly SchemeProblem[];
  readonly levels: readonly Level[];
  /** House footprint (all levels together) and the graded outline with its apron. */
  readonly footprint: Ring;
  readonly outline: Ring;
  readonly footprintShape: string;
  readonly floorAreaFt2: number;
  readonly garageAt: Point;
  readonly garageFloorFt: number;
  readonly garage: "attached" | "detached" | "none";
  /** Null where only one way was looked at. */
  readonly garageChoice?: GarageChoice | null;
  /** Unit vector, downhill, at the house. */
  readonly downhill: Point;
  readonly earthwork: Earthwork;
  readonly graded: GradedGround;
  readonly walls: readonly Wall[];
  readonly temporary: {
    readonly outline: Polygon;
    readonly heightFt: number;
    readonly reachFt: number;
  } | null;
  readonly straddle: Straddle;
  readonly slopeUnderHousePct: { readonly mean: number; readonly p90: number };
  readonly overexcavationYd3: number;
  readonly keyBenchYd3: number;
  /** Likely site cost the search minimised. */
  readonly objectiveUsd: number;
  readonly search: {
    readonly placementsTried: number;
    readonly exactTried: number;
    /** Best objective per footprint shape tried, cheapest first. */
    readonly byFootprint: readonly { readonly shape: string; readonly objectiveUsd: number }[];
  } | null;
  /** `breaks`: codes of the rules this point would break. */
  readonly curves: {
    readonly exportByLevel: readonly {
      readonly levelFt: number;
      readonly looseExportYd3: number;
      readonly objectiveUsd: number;
      readonly breaks: readonly string[];
    }[];
    readonly exportByFloorArea: readonly {
      readonly floorAreaFt2: number;
      readonly looseExportYd3: number;
      readonly breaks: readonly string[];
    }[];
    readonly costByRotation: readonly {
      readonly rotationDeg: number;
      readonly objectiveUsd: number;
      readonly breaks: readonly string[];
    }[];
  } | null;
}
