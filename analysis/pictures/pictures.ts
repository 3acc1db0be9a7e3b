/**
 * Everything the drawings and the map layers need, thinned for drawing and ready for JSON:
 * local feet, rounded to 0.01 ft, typed arrays turned into plain arrays (null where there is no value).
 */
import type { DrainTier, LotWater } from "../drainage/drainage.js";
import type { Wall } from "../earthwork/earthwork.js";
import type { Stake } from "../earthwork/stakes.js";
import type { Grid } from "../geometry/grid.js";
import type { MultiPolygon, Point, Point3, Polygon, Ring } from "../geometry/plane.js";
import type { Lot } from "../lot/lot.js";
import type { Level } from "../schemes/scheme.js";
import type { LightWell } from "../structure/structure.js";
import type { Frame, NoBuildArea, SurveyFeature } from "../survey/survey.js";
import type { ContourLine } from "../terrain/terrain.js";

export interface PictureGrid {
  readonly grid: Grid;
  readonly values: readonly (number | null)[];
}

/** Ground and design along one straight line through the house. */
export interface Section {
  readonly from: Point;
  readonly to: Point;
  /** Distance from `from`, close enough to join by straight lines; ground null where unsurveyed. */
  readonly stations: readonly {
    readonly atFt: number;
    readonly groundFt: number | null;
    readonly designFt: number | null;
  }[];
  /** Extent of each level along the line. */
  readonly levels: readonly {
    readonly name: string;
    readonly role: Level["role"];
    readonly fromFt: number;
    readonly toFt: number;
    readonly elevationFt: number;
    readonly floorFt: number;
    readonly topFt: number;
  }[];
  readonly piers: readonly { readonly atFt: number; readonly topFt: number; readonly bottomFt: number }[];
  readonly walls: readonly {
    readonly atFt: number;
    readonly bottomFt: number;
    readonly topFt: number;
    readonly kind: Wall["kind"];
  }[];
  readonly wells: readonly {
    readonly atFt: number;
    readonly widthFt: number;
    readonly bottomFt: number;
    readonly topFt: number;
  }[];
  readonly drains: readonly {
    readonly atFt: number;
    readonly elevFt: number;
    readonly tier: DrainTier["tier"];
  }[];
  readonly temporary: readonly {
    readonly fromFt: number;
    readonly fromElevFt: number;
    readonly toFt: number;
    readonly toElevFt: number;
  }[];
  readonly lotFromFt: number;
  readonly lotToFt: number;
}

export interface SchemePicture {
  readonly id: string;
  readonly levels: readonly Level[];
  readonly footprint: Ring;
  readonly outline: Ring;
  readonly cut: MultiPolygon;
  readonly fill: MultiPolygon;
  readonly depth: PictureGrid;
  /** Nested: ground cut (or filled) at least this deep. */
  readonly depthSteps: readonly {
    readonly side: "cut" | "fill";
    readonly depthFt: number;
    readonly polygons: MultiPolygon;
  }[];
  readonly walls: readonly Wall[];
  readonly temporary: Polygon | null;
  readonly drive: {
    readonly line: readonly Point3[];
    readonly footprint: MultiPolygon;
    /** The leg a car backs into. */
    readonly turnaround: Ring | null;
    /** Where a loaded truck or a fire engine cannot pass as drawn; absent in older studies. */
    readonly tooTight?: readonly Point[];
    readonly profile: readonly {
      readonly stationFt: number;
      readonly groundFt: number;
      readonly gradeFt: number;
    }[];
  } | null;
  readonly garageAt: Point;
  readonly catchment: MultiPolygon;
  readonly swale: readonly Point[];
  readonly drains: readonly {
    readonly tier: DrainTier["tier"];
    readonly route: readonly Point[];
    readonly gravity: boolean;
  }[];
  /** Way of the water when an inlet is blocked, and where the drive crosses water; absent in older studies. */
  readonly overflow?: readonly Point[];
  readonly crossings?: readonly Point[];
  readonly piers: readonly Point[];
  readonly wells: readonly LightWell[];
  /** Corners and daylight lines to flag; preliminary. */
  readonly stakes: readonly Stake[];
  /** Down the fall line, and across it. */
  readonly along: Section;
  readonly across: Section;
}

/** Water over the natural ground without its cells. */
export type DrawnWater = Omit<LotWater, "flow">;

export interface Pictures {
  readonly frame: Frame;
  readonly boundary: Ring;
  readonly edges: Lot["edges"];
  readonly entry: Point | null;
  readonly contours: readonly ContourLine[];
  readonly contourIntervalFt: number;
  readonly slopeBands: readonly {
    readonly fromPct: number;
    readonly toPct: number | null;
    readonly polygons: MultiPolygon;
  }[];
  readonly insideSetbacks: MultiPolygon;
  readonly buildable: MultiPolygon;
  readonly unsurveyed: MultiPolygon;
  readonly noBuild: readonly NoBuildArea[];
  readonly features: readonly SurveyFeature[];
  readonly points: readonly Point3[];
  /** Coarse ground over the lot for the block view. */
  readonly ground: PictureGrid;
  readonly water: Omit<LotWater, "flow">;
  readonly schemes: readonly SchemePicture[];
  /** Sentences of the study with the measures they carry, for readers of other units; absent in older studies. */
  readonly measured?: readonly string[];
}
