/** Intake alone: what was read, with a picture, and nothing kept. Runs in a worker thread. */
import { differenceOf } from "../../analysis/geometry/clip.js";
import { describeLot } from "../../analysis/lot/index.js";
import type { Lot } from "../../analysis/lot/lot.js";
import { inUsUnits } from "../../analysis/measure.js";
import { understandRequest } from "../../analysis/request/understand.js";
import { readSurvey, type Survey, toSurvey } from "../../analysis/survey/index.js";
import { shapeGround } from "../../analysis/terrain/index.js";
import { drawSurveyPreview } from "../../templates/drawings/survey-preview.js";
import type { SurveyCheck } from "../survey-check.js";
import type { CheckMade, Submission } from "./work.js";

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
  const outcome = shapeGround(reading.survey, request);
  if (!outcome.ok) return outcome;
  const { survey, shaped } = outcome;
  const lot = describeLot(survey, request);

  const edges = edgesOf(survey, lot);
  return {
    ok: true,
    check: {
      survey: inPlainUnits(survey.summary),
      lot: lot.summary,
      preview: {
        boundary: survey.boundary.map((corner) => toSurvey(survey.frame, corner)),
        edges,
        frontageOrigin: lot.frontageOrigin,
        minElevationFt: round(shaped.extremes.minElevationFt),
        maxElevationFt: round(shaped.extremes.maxElevationFt),
        averageSlopePct: round(shaped.averageSlope.pct),
        svg: drawSurveyPreview({
          id: "survey",
          boundary: survey.boundary,
          inputEdge: survey.inputEdge,
          frontage: edges.filter(({ frontage }) => frontage).map(({ number }) => number),
          shots: survey.ground,
          facets: shaped.tin,
          breaklines: survey.breaklines,
          leftOut: survey.leftOut ?? [],
          unsurveyed: differenceOf([[survey.boundary]], shaped.surveyed),
        }),
      },
    },
  };
}

/** An edge of several chords, such as a curve, is one edge: its length is theirs together, it faces where its middle faces. */
function edgesOf({ boundary, inputEdge }: Survey, lot: Pick<Lot, "edges">): SurveyCheck["preview"]["edges"] {
  const chords = new Map<number, { runEast: number; runNorth: number; index: number }[]>();
  boundary.forEach(([east, north], index) => {
    const [nextEast, nextNorth] = boundary[(index + 1) % boundary.length]!;
    const number = inputEdge[index] ?? index;
    const chord = { runEast: nextEast - east, runNorth: nextNorth - north, index };
    chords.set(number, [...(chords.get(number) ?? []), chord]);
  });
  return [...chords].map(([number, lines]) => {
    const { runEast, runNorth, index } = lines[lines.length >> 1]!;
    // The ring runs counter-clockwise, so outward is to the right of each chord.
    const outwardDeg = ((Math.atan2(runNorth, -runEast) * 180) / Math.PI + 360) % 360;
    const { role, frontage } = lot.edges[index]!;
    return {
      number,
      lengthFt: round(lines.reduce((sum, line) => sum + Math.hypot(line.runEast, line.runNorth), 0)),
      faces: WINDS[Math.round(outwardDeg / 45) % 8]!,
      role,
      frontage,
    };
  });
}

/** The same with the measures its sentences carry said in US units, as in a study. */
function inPlainUnits<T>(value: T): T {
  return JSON.parse(JSON.stringify(value), (_, one) => (typeof one === "string" ? inUsUnits(one) : one)) as T;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
