/** Everything the drawings need of a study, thinned and ready for JSON. */
import { differenceOf, openedBy } from "../geometry/clip.js";
import { boxOf, type Point3, perimeterFt } from "../geometry/plane.js";
import type { GroundPoints } from "../survey/survey.js";
import type { ContourLine, Terrain } from "../terrain/terrain.js";
import { coarse, heightAt } from "./ground-samples.js";
import type { PicturesInput } from "./picture-input.js";
import { drawScheme } from "./picture-scheme.js";
import type { Pictures } from "./pictures.js";
import { roundPoint, thinLine, thinPolygons, to01 } from "./thin.js";

export type { Pictures } from "./pictures.js";

/** A drawing on paper shows about one part in two thousand of its width. */
const DRAWING_RESOLUTION = 2000;
const MOST_CONTOURS = 50;
const MOST_POINTS = 600;
const GROUND_CELLS = 56;
/** Ground shown around the lot in the block view. */
const MARGIN_FT = 5;
/** Lines of flow step from cell to cell; the steps mean nothing. */
const STREAM_TOLERANCE_FT = 2.5;
/** Slivers between the last shots and the lot line narrower than this are not worth hatching. */
const NARROWEST_GAP_FT = 1;

/** Returns what the drawings need, in local feet rounded to 0.01 ft; no value is NaN. */
export function makePictures({ site, water, reach, schemes }: PicturesInput): Pictures {
  const { survey, terrain, lot, request } = site;
  const { boundary } = survey;
  const box = boxOf(boundary);
  const toleranceFt = Math.max(0.02, perimeterFt(boundary) / 4 / DRAWING_RESOLUTION);
  const smallestFt2 = Math.max(4, lot.summary.areaFt2 / 20_000);
  const thin = (polygons: Parameters<typeof thinPolygons>[0]) =>
    thinPolygons(polygons, toleranceFt, smallestFt2);
  const contours = drawnContours(terrain.contours, request.rules.contourIntervalFt, toleranceFt);

  return {
    frame: survey.frame,
    boundary: boundary.map(roundPoint),
    edges: lot.edges,
    entry: reach.entry && roundPoint(reach.entry),
    contours: contours.lines,
    contourIntervalFt: contours.intervalFt,
    slopeBands: terrain.bandPolygons.map((band) => ({ ...band, polygons: thin(band.polygons) })),
    insideSetbacks: thin(lot.insideSetbacks),
    buildable: thin(lot.buildablePolygons),
    unsurveyed: thin(openedBy(differenceOf([[boundary]], terrain.surveyed), NARROWEST_GAP_FT)),
    noBuild: survey.noBuild.map((area) => ({ ...area, polygons: thin(area.polygons) })),
    features: survey.features.map((feature) => ({
      ...feature,
      at: roundPoint(feature.at),
      elevFt: to01(feature.elevFt),
    })),
    points: drawnPoints(survey.ground),
    ground: groundOverLot(terrain, box),
    water: {
      lotCatchmentFt2: water.lotCatchmentFt2,
      lowerBound: water.lowerBound,
      streams: water.streams.map((stream) => ({
        ...stream,
        line: thinLine(stream.line, Math.max(toleranceFt, STREAM_TOLERANCE_FT)).map(roundPoint),
      })),
      depressions: water.depressions.map((hollow) => ({ ...hollow, at: roundPoint(hollow.at) })),
      lotCatchment: thin(water.lotCatchment),
    },
    schemes: schemes.map((scheme) => drawScheme(site, scheme, toleranceFt)),
  };
}

/** Every k-th contour, k chosen so that a steep lot does not turn black. */
function drawnContours(contours: readonly ContourLine[], intervalFt: number, toleranceFt: number) {
  const every = [1, 2, 5, 10, 20, 50, 100].find((k) => contours.length / k <= MOST_CONTOURS) ?? 100;
  const drawnFt = intervalFt * every;
  const isDrawn = ({ elevFt }: ContourLine) =>
    Math.abs(elevFt / drawnFt - Math.round(elevFt / drawnFt)) < 1e-6;
  return {
    intervalFt: drawnFt,
    lines: contours.filter(isDrawn).map(({ elevFt, lines }) => ({
      elevFt: to01(elevFt),
      lines: lines
        .map((line) => thinLine(line, toleranceFt).map(roundPoint))
        .filter((line) => line.length > 1),
    })),
  };
}

/** The shots, or an even sample of them on dense surveys. */
function drawnPoints(ground: GroundPoints): Point3[] {
  const step = Math.max(1, Math.ceil(ground.count / MOST_POINTS));
  const points: Point3[] = [];
  for (let i = 0; i < ground.count; i += step)
    points.push([to01(ground.eastFt[i]!), to01(ground.northFt[i]!), to01(ground.elevFt[i]!)]);
  return points;
}

function groundOverLot(terrain: Terrain, box: ReturnType<typeof boxOf>) {
  const around = {
    minEastFt: box.minEastFt - MARGIN_FT,
    minNorthFt: box.minNorthFt - MARGIN_FT,
    maxEastFt: box.maxEastFt + MARGIN_FT,
    maxNorthFt: box.maxNorthFt + MARGIN_FT,
  };
  return coarse(terrain.elevation, around, GROUND_CELLS, heightAt);
}
