/** Intake alone: what was read, with a picture, and nothing kept. Runs in a worker thread. */
import { findBuildable } from "../../analysis/lot/index.js";
import type { LotSummary } from "../../analysis/lot/lot.js";
import { understandRequest } from "../../analysis/request/index.js";
import { readSurvey, type SurveySummary, toSurvey } from "../../analysis/survey/index.js";
import { buildTerrain } from "../../analysis/terrain/index.js";
import { surveyPicture } from "../../templates/pages/survey-picture.js";
import type { CheckMade, Submission } from "./work.js";

/** The answer of POST /v1/surveys/check. */
export interface SurveyCheck {
  readonly survey: SurveySummary;
  readonly lot: LotSummary;
  readonly preview: {
    /** Boundary corners in survey coordinates, counter-clockwise. */
    readonly boundary: readonly (readonly [number, number])[];
    /** Edge i runs from boundary[i] to the next corner; `number` is what access.frontage and setbacksFt.edges call it. */
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

const WINDS = [
  "north",
  "north-east",
  "east",
  "south-east",
  "south",
  "south-west",
  "west",
  "north-west",
] as const;

export async function checkSurvey({ input, files }: Submission): Promise<CheckMade> {
  const { request } = understandRequest(input);
  const reading = await readSurvey({ input, request, files });
  if (!reading.ok) return reading;
  const shaped = buildTerrain(reading.survey, request);
  if (!shaped.ok) return shaped;
  const { survey, terrain } = shaped;
  const lot = findBuildable(survey, terrain, request);

  const edges = survey.boundary.map(([east, north], i) => {
    const [nextEast, nextNorth] = survey.boundary[(i + 1) % survey.boundary.length]!;
    const [runEast, runNorth] = [nextEast - east, nextNorth - north];
    // The ring runs counter-clockwise, so outward is to the right of each edge.
    const outwardDeg = ((Math.atan2(runNorth, -runEast) * 180) / Math.PI + 360) % 360;
    const { role, frontage } = lot.edges[i]!;
    return {
      number: survey.inputEdge[i] ?? i,
      lengthFt: round(Math.hypot(runEast, runNorth)),
      faces: WINDS[Math.round(outwardDeg / 45) % 8]!,
      role,
      frontage,
    };
  });
  return {
    ok: true,
    check: {
      survey: survey.summary,
      lot: lot.summary,
      preview: {
        boundary: survey.boundary.map((corner) => toSurvey(survey.frame, corner)),
        edges,
        frontageOrigin: lot.frontageOrigin,
        minElevationFt: round(terrain.summary.minElevationFt),
        maxElevationFt: round(terrain.summary.maxElevationFt),
        averageSlopePct: round(terrain.summary.averageSlope.pct),
        svg: surveyPicture({
          boundary: survey.boundary,
          edges,
          shots: survey.ground,
          features: survey.features.filter(({ kind }) => kind !== "other"),
        }),
      },
    },
  };
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
