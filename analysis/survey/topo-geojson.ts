/** A topographic survey sent as GeoJSON: spot heights as points, contours or breaklines as lines. */
import { type PlainFeature, readFeatures } from "./geojson.js";
import type { IntakeNotes } from "./notes.js";
import { PointTableBuilder } from "./point-table.js";
import type { SourceLine, TopoSource } from "./sources.js";

const HEIGHT_NAMES = ["elevation", "elev", "z", "height", "alt", "altitude", "contour", "level"] as const;
/** Places without a height listed one by one. */
const MOST_NAMED = 500;
const WORD_NAMES = ["description", "desc", "code", "feature"] as const;

/** Null with a problem in the notes when no feature gives a place with a height. */
export function readTopoGeojson(value: unknown, notes: IntakeNotes): TopoSource | null {
  const features = readFeatures(value);
  if (!features) {
    notes.problems.push({
      code: "topo-geojson",
      where: "topo",
      message: "The topo is not GeoJSON with numeric positions.",
      remedy:
        "Send a FeatureCollection of points with elevations, or of contour lines with an elevation each.",
    });
    return null;
  }
  const builder = new PointTableBuilder(features.length);
  const breaklines: SourceLine[] = [];
  let contours = 0;
  let pointsRead = 0;
  features.forEach(({ geometry, properties }, i) => {
    const row = i + 1;
    const own = heightIn(properties);
    const word = builder.wordId(wordIn(properties));
    const isLine = geometry.type.includes("LineString");
    for (const line of geometry.lines) {
      pointsRead += line.length;
      const heights = line.map((position) => position[2] ?? own);
      if (isLine && isBreakline(line, own)) breaklines.push(line.map(([x, y, z]) => [x!, y!, z!]));
      else if (isLine) contours++;
      line.forEach((position, k) => {
        const height = heights[k];
        if (height === null || height === undefined) {
          if (notes.excluded.length < MOST_NAMED)
            notes.excluded.push({ row, reason: "no elevation", evidence: `feature ${row}` });
        } else builder.push(position[0]!, position[1]!, height, row, word);
      });
    }
  });
  const points = builder.finish();
  if (points.count === 0) {
    notes.problems.push({
      code: "topo-no-points",
      where: "topo",
      message:
        "No feature of the topo has an elevation: neither a third number in its positions nor a property elevation.",
      remedy: 'Give every point a third coordinate, or every contour a property "elevation".',
    });
    return null;
  }
  if (contours > 0)
    notes.warnings.push({
      code: "topo-from-contours",
      message: `${contours} contour ${contours === 1 ? "line was" : "lines were"} read; their corners were taken for shots. Ground between contours is only as good as the map they came from.`,
      remedy:
        "Ask for the shots the contours were drawn from; else give survey.source and survey.sourceContourIntervalFt.",
    });
  const isDegrees = looksLikeDegrees(points.easting, points.northing);
  return {
    heightsFrom:
      contours > 0 ? { kind: "contours", interval: smallestStep(points.elevation) } : { kind: "shots" },
    said: {
      axes: "named",
      unit: null,
      verticalUnit: null,
      degrees: isDegrees,
      crs: isDegrees ? "EPSG:4326" : null,
    },
    format: contours > 0 ? "GeoJSON contours" : "GeoJSON points",
    columns: null,
    columnsBecause: "GeoJSON positions are [easting, northing, elevation]",
    points,
    pointsRead,
    breaklines,
  };
}

/** A line whose corners have heights of their own, not all one. */
function isBreakline(line: readonly (readonly number[])[], own: number | null): boolean {
  const heights = line.map(([, , z]) => z);
  return (
    line.length > 1 && own === null && heights.every((z) => z !== undefined) && new Set(heights).size > 1
  );
}

function heightIn(properties: PlainFeature["properties"]): number | null {
  for (const [name, value] of Object.entries(properties))
    if (
      (HEIGHT_NAMES as readonly string[]).includes(name.toLowerCase()) &&
      typeof value === "number" &&
      Number.isFinite(value)
    )
      return value;
  return null;
}

function wordIn(properties: PlainFeature["properties"]): string {
  for (const name of WORD_NAMES)
    if (typeof properties[name] === "string") return properties[name].slice(0, 200);
  return "";
}

function smallestStep(elevations: Float64Array): number | null {
  const levels = Float64Array.from(new Set(elevations)).sort();
  let least = Infinity;
  for (let i = 1; i < levels.length; i++) least = Math.min(least, levels[i]! - levels[i - 1]!);
  return least < Infinity ? least : null;
}

/** Widest survey in degrees; planar feet spread farther. */
const WIDEST_DEG = 0.5;

function looksLikeDegrees(lon: Float64Array, lat: Float64Array): boolean {
  let [minX, maxX, minY, maxY] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < lon.length; i++) {
    minX = Math.min(minX, lon[i]!);
    maxX = Math.max(maxX, lon[i]!);
    minY = Math.min(minY, lat[i]!);
    maxY = Math.max(maxY, lat[i]!);
  }
  const inRange = minX >= -180 && maxX <= 180 && minY >= -90 && maxY <= 90;
  return inRange && maxX - minX < WIDEST_DEG && maxY - minY < WIDEST_DEG;
}
