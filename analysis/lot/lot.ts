/** What is left to build on. */
import type { Mask } from "../geometry/grid.js";
import type { MultiPolygon } from "../geometry/plane.js";
import type { Closure } from "../survey/survey.js";

export interface LotSummary {
  readonly areaFt2: number;
  readonly areaAcres: number;
  readonly perimeterFt: number;
  readonly closure: Closure | null;
}

export interface WaterfallStep {
  readonly reason:
    | "lot"
    | "setback"
    | "easement"
    | "tree"
    | "watercourse"
    | "unsurveyed"
    | "slope"
    | "narrow";
  readonly removedFt2: number;
  readonly remainingFt2: number;
}

/** `buildable` of the answer. */
export interface BuildableSummary {
  readonly slopeLimitPct: number;
  readonly areaFt2: number;
  readonly sharePct: number;
  readonly largestPatchFt2: number;
  readonly patches: number;
  readonly steps: readonly WaterfallStep[];
  readonly bySlopeLimit: readonly { readonly limitPct: number; readonly areaFt2: number }[];
}

export type EdgeRole = "front" | "side" | "rear";

export interface Lot {
  readonly summary: LotSummary;
  readonly buildable: BuildableSummary;
  /** Per boundary edge (local order): role, setback, and whether it was typed or guessed. */
  readonly edges: readonly {
    /** What access.frontage and setbacksFt.edges call it; chords of one arc share it. */
    readonly number: number;
    readonly role: EdgeRole;
    readonly setbackFt: number;
    readonly frontage: boolean;
  }[];
  readonly frontageOrigin: "given" | "guessed" | "unknown";
  /** Lot inside the setbacks, nothing else taken. */
  readonly insideSetbacks: MultiPolygon;
  /** Inside setbacks, less no-build areas and unsurveyed ground: where walls, pads and graded slopes may be thought of. */
  readonly usable: MultiPolygon;
  readonly buildablePolygons: MultiPolygon;
  /** On the terrain's grid: 1 where the cell centre is buildable. */
  readonly buildableMask: Mask;
}
