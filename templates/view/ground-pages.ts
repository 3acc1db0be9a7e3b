/** Builder's pages on the survey, the ground, and what is left to build on. */
import type { StudyResult } from "../../analysis/study/result.js";
import { waterfall } from "../drawings/bar-charts.js";
import { curve } from "../drawings/curve-chart.js";
import { areaSample, lineSample } from "../drawings/legend.js";
import { bandTone, buildablePlan, slopePlan } from "../drawings/site-plan.js";
import { figure, type Source, table, unsurveyedEntry } from "./report-parts.js";
import { capital, dateInWords, fallOfLot, STEP_WORDS, sentences } from "./words.js";

const UNIT_WORDS = { ft: "international feet", "us-ft": "US survey feet", m: "meters" } as const;

export function surveyPage({ study, format }: Source) {
  const { survey, lot, terrain } = study;
  const closure = lot.closure;
  return {
    facts: table(
      "What was read",
      ["", "Value"],
      [
        [
          "Ground shots used",
          `${format.count(survey.pointsUsed)} of ${format.count(survey.pointsRead)} points read`,
        ],
        ["Format", sentences(`${survey.format}. ${survey.columnsBecause}`)],
        [
          "Unit and frame",
          `${UNIT_WORDS[survey.unit]}${survey.verticalUnit === survey.unit ? "" : `, heights in ${UNIT_WORDS[survey.verticalUnit]}`}; ${survey.crs === "local" ? "a local frame" : survey.crs}`,
        ],
        ["Date", survey.date ? dateInWords(survey.date) : "not stated"],
        ["Vertical datum", survey.datum ?? "not stated"],
        ["Basis of bearings", survey.basisOfBearings ?? "not stated"],
        ["Shots stand apart", `${format.length(survey.medianSpacingFt, 1)} (middle value)`],
        ["Lot covered", format.percent(survey.coveragePct)],
        [
          "A ground shot is good to",
          `± ${format.length(survey.verticalAccuracyFt)} (one sigma; ${survey.verticalAccuracyOrigin})`,
        ],
        terrain.interpolationRmsFt === null
          ? null
          : [
              "Ground between shots is good to",
              `± ${format.length(terrain.interpolationRmsFt)} (each shot left out in turn)`,
            ],
        [
          "Boundary",
          closure
            ? `${format.length(lot.perimeterFt, 1)} around; does not close by ${format.length(closure.misclosureFt, 0.01)} (1 in ${format.count(closure.precision, 100)})${closure.adjusted ? ", adjusted on request" : ""}`
            : `${format.length(lot.perimeterFt, 1)} around; given as corners`,
        ],
      ],
    ),
    excluded: table(
      "Points left out",
      ["Row", "Why"],
      survey.excluded
        .slice(0, MOST_EXCLUDED)
        .map((point) => [
          String(point.row),
          capital(point.reason) + (point.evidence ? `: ${point.evidence}` : ""),
        ]),
    ),
    moreExcluded:
      survey.excluded.length > MOST_EXCLUDED
        ? format.count(survey.excluded.length - MOST_EXCLUDED)
        : undefined,
    warnings: survey.warnings.map(({ message, remedy }) => ({ message, remedy })),
  };
}

/** Rows shown on the page; the rest are in the study document. */
const MOST_EXCLUDED = 12;

export function groundPage({ study, pictures, format, chosen }: Source) {
  const { terrain } = study;
  const bands = terrain.slopeBands.map((band, i) => ({
    name: band.toPct === null ? `${band.fromPct} % and steeper` : `${band.fromPct} to ${band.toPct} %`,
    tone: bandTone(i, terrain.slopeBands.length),
    area: format.area(band.areaFt2),
    share: format.percent(band.sharePct),
  }));
  const title = `${fallOfLot(terrain)} and is ${format.percent(terrain.meanSlopePct)} steep on average`;
  const words = bands.map((band) => `${band.name}: ${band.share}`).join("; ");
  return {
    figure: figure(
      slopePlan(
        {
          id: "slopes",
          title,
          words: `Plan of slope bands, darker and more closely hatched where steeper. Share of the lot: ${words}.`,
        },
        { pictures, scheme: undefined, format, downhillAzimuthDeg: terrain.aspectDeg, street: "street" },
      ),
      `Contours every ${format.typed(pictures.contourIntervalFt)}, every fifth one heavier; heights in ${format.metric ? "meters" : "feet"}.`,
      [
        ...bands.map((band) => ({ sample: areaSample(`band-${band.tone}`, "band"), words: band.name })),
        ...unsurveyedEntry({ study }),
      ],
    ),
    bands: table(
      "Slope bands over the surveyed lot",
      ["Steepness", "Area", "Share of the lot"],
      bands.map((band) => [band.name, band.area, band.share]),
    ),
    steepness: table(
      "Three ways to say how steep it is",
      ["", "Steepness", "What it means"],
      [
        ["Mean over the lot", format.percent(terrain.meanSlopePct), "every part counted by its area"],
        [
          "Average slope by contour length",
          format.percent(terrain.averageSlope.pct),
          `interval ${format.typed(terrain.averageSlope.intervalFt)} × ${format.length(terrain.averageSlope.contourLengthFt, 10)} of contour ÷ area: the formula of many hillside rules`,
        ],
        chosen
          ? [
              "Under the chosen house",
              format.percent(chosen.slopeUnderHousePct.mean),
              `${format.percent(chosen.slopeUnderHousePct.p90)} at the steepest tenth`,
            ]
          : null,
      ],
    ),
    facts: table(
      "The ground in numbers",
      ["", "Value"],
      [
        [
          "Lowest and highest point",
          `${format.elevation(terrain.minElevationFt)} and ${format.elevation(terrain.maxElevationFt)}`,
        ],
        ["Difference", format.length(terrain.reliefFt)],
        [
          "Area in plan and on the slope",
          `${format.area(terrain.planAreaFt2)} and ${format.area(terrain.surfaceAreaFt2)}`,
        ],
        [
          "Method",
          terrain.method === "facets"
            ? "triangles between the shots"
            : "grid smoothed to the size of a building, because the shots stand very close",
        ],
      ],
    ),
  };
}

export function buildablePage({ study, pictures, format }: Source) {
  const { buildable, lot } = study;
  const steps = buildable.steps.filter((step) => step.reason === "lot" || step.removedFt2 >= 1);
  const rows = steps.map((step, i) => ({
    name: STEP_WORDS[step.reason],
    value: i === 0 ? format.area(step.remainingFt2) : `− ${format.area(step.removedFt2)}`,
    remaining: step.remainingFt2,
    removed: step.removedFt2,
  }));
  const left = {
    name: "Left to build on",
    value: format.area(buildable.areaFt2),
    remaining: buildable.areaFt2,
    removed: 0,
  };
  const words = `${rows.map((row) => `${row.name}: ${row.value}`).join("; ")}; left: ${left.value}.`;
  const limits = buildable.bySlopeLimit;
  return {
    figure: figure(
      buildablePlan(
        {
          id: "buildable",
          title: "What the rules leave",
          words: `Plan of the ground left to build on, ${format.area(buildable.areaFt2)} in ${buildable.patches} ${buildable.patches === 1 ? "piece" : "pieces"}, with setback line, no-build areas and trees.`,
        },
        {
          pictures,
          scheme: undefined,
          format,
          downhillAzimuthDeg: study.terrain.aspectDeg,
          street: "street",
        },
      ),
      `By a slope limit of ${buildable.slopeLimitPct} % and the setbacks below.`,
      [
        { sample: areaSample("build-ground", "build-ground"), words: "left to build on" },
        { sample: lineSample("setback-line"), words: "setback" },
        ...(pictures.noBuild.some((n) => n.kind === "tree")
          ? [{ sample: lineSample("tree-room"), words: "room around a tree" }]
          : []),
        ...(pictures.noBuild.some((n) => n.kind !== "tree")
          ? [{ sample: areaSample("no-build", "no-build"), words: "no-build area" }]
          : []),
        ...unsurveyedEntry({ study }),
      ],
    ),
    waterfall: figure(
      waterfall(
        {
          id: "waterfall",
          title: `From ${format.area(lot.areaFt2)} of lot to ${format.area(buildable.areaFt2)} to build on`,
          words,
        },
        [...rows, left],
      ),
      "Each row takes its bite from what the row above left.",
      [
        { sample: areaSample("bite", "bar-bite"), words: "taken by this row" },
        { sample: areaSample("build-ground", "bar-left"), words: "left" },
      ],
    ),
    curve:
      limits.length > 1
        ? figure(
            curve(
              {
                id: "limits",
                title: "Ground left, if the slope limit were another",
                words: limits.map((l) => `${l.limitPct} %: ${format.area(l.areaFt2)}`).join("; "),
              },
              {
                points: limits.map((l) => [l.limitPct, l.areaFt2]),
                mark: { x: buildable.slopeLimitPct, text: `limit ${buildable.slopeLimitPct} %` },
                xName: "slope limit",
                yName: "ground left to build on",
                xTick: (v) => `${Math.round(v)} %`,
                yTick: (v) => format.area(v),
              },
            ),
            "Limits differ from place to place; ask how the city measures slope.",
          )
        : undefined,
    edges: table(
      "Setbacks used",
      ["Lot side", "Kind", "Setback"],
      oneOfEachSide(lot.edges).map((edge) => [
        `Side ${edge.number + 1}`,
        edge.role + (edge.frontage ? ", on the street" : ""),
        format.typed(edge.setbackFt),
      ]),
    ),
    frontage: {
      given: "The street side was given.",
      guessed: "The street side is our guess.",
      unknown: "The street side is not known.",
    }[lot.frontageOrigin],
    patches:
      buildable.patches > 1
        ? `It lies in ${buildable.patches} pieces; the largest has ${format.area(buildable.largestPatchFt2)}.`
        : undefined,
  };
}

/** The sides as the reader numbered them; an arc drawn as several chords is one side. */
function oneOfEachSide(edges: StudyResult["lot"]["edges"]): StudyResult["lot"]["edges"] {
  return [...new Map(edges.map((edge) => [edge.number, edge])).values()].sort((a, b) => a.number - b.number);
}
