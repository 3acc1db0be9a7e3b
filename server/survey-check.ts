/** What intake understood of a survey. */
import type { LotSummary } from "../analysis/lot/lot.js";
import type { SurveySummary } from "../analysis/survey/survey.js";

/** The answer of POST /v1/surveys/check. */
export interface SurveyCheck {
  readonly survey: SurveySummary;
  readonly lot: LotSummary;
  readonly preview: {
    /** Boundary corners in survey coordinates, counter-clockwise. */
    readonly boundary: readonly (readonly [number, number])[];
    /** `number` is what access.frontage and setbacksFt.edges call the edge. */
    readonly edges: readonly {
      readonly number: number;
      readonly lengthFt: number;
      readonly faces: string;
      readonly role: "front" | "side" | "rear";
      readonly frontage: boolean;
    }[];
    readonly frontageOrigin: "given" | "guessed" | "unknown";
    readonly minElevationFt: number;
    readonly maxElevationFt: number;
    readonly averageSlopePct: number;
    /** Drawing of shots, lot line and edges: each edge is an element with data-edge = its number. */
    readonly svg: string;
  };
}
