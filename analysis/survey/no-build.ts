/** Ground nothing may stand on: the constraints that were sent, and circles round trees. */
import { offsetOf, stripAlong, unionOf } from "../geometry/clip.js";
import {
  type Box,
  boxOf,
  type MultiPolygon,
  type Point,
  type Ring,
  signedAreaFt2,
} from "../geometry/plane.js";
import { TREE_RADIUS_FT_PER_IN, TRUNK_WHEN_UNKNOWN_IN } from "./assumptions.js";
import { type PlainFeature, readFeatures } from "./geojson.js";
import { type IntakeNotes, shown } from "./notes.js";
import type { NoBuildArea, SurveyFeature } from "./survey.js";

const CIRCLE_CORNERS = 24;
const MOST_CORNERS = 20_000;
const WIDEST_BUFFER_FT = 1_000;
const MOST_NAMED = 8;

/** One circle a tree, radius 1 ft per inch of trunk. */
export function treeAreas(features: readonly SurveyFeature[]): NoBuildArea[] {
  return features
    .filter(({ kind }) => kind === "tree")
    .map(({ at, description, trunkIn }) => ({
      name: description,
      kind: "tree",
      polygons: [[circle(at, TREE_RADIUS_FT_PER_IN * (trunkIn ?? TRUNK_WHEN_UNKNOWN_IN))]],
    }));
}

/** A ring just outside the circle, so that its area is the circle's. */
function circle([x, y]: Point, radiusFt: number): Ring {
  const step = (2 * Math.PI) / CIRCLE_CORNERS;
  const r = radiusFt * Math.sqrt(step / Math.sin(step));
  return Array.from(
    { length: CIRCLE_CORNERS },
    (_, k): Point => [x + r * Math.cos(k * step), y + r * Math.sin(k * step)],
  );
}

/** Reads the constraints GeoJSON: polygons as they are, lines and points with `bufferFt`. `toLocal` takes its coordinates to local feet. */
export function readConstraints(
  source: unknown,
  toLocal: (at: Point) => Point,
  notes: IntakeNotes,
): NoBuildArea[] {
  const features = readFeatures(source);
  if (!features) {
    notes.problems.push({
      code: "constraints-not-geojson",
      where: "constraints",
      message: "The constraints are not a GeoJSON feature, collection or geometry.",
      remedy:
        'Send polygons in survey coordinates, each with properties { "name": …, "kind": "easement" | "no-build" | "tree" | "watercourse" }.',
    });
    return [];
  }
  const corners = features.reduce(
    (sum, f) => sum + f.geometry.lines.reduce((n, line) => n + line.length, 0),
    0,
  );
  if (corners > MOST_CORNERS) {
    notes.problems.push({
      code: "constraints-too-many-corners",
      where: "constraints",
      message: `The constraints have ${corners} corners; at most ${MOST_CORNERS} are read.`,
      remedy: "Send what touches the lot, with corners and not points along curves.",
    });
    return [];
  }
  const areas: NoBuildArea[] = [];
  features.forEach(({ geometry, properties }, i) => {
    const name = String(properties.name ?? `constraint ${i + 1}`).slice(0, 80);
    const bufferFt = Number(properties.bufferFt ?? 0);
    if (!(bufferFt >= 0 && bufferFt <= WIDEST_BUFFER_FT)) {
      notes.problems.push({
        code: "constraint-buffer",
        where: "constraints",
        row: i + 1,
        message: `bufferFt of ${name} must be a number from 0 to ${WIDEST_BUFFER_FT}.`,
        remedy: "Correct the buffer.",
      });
      return;
    }
    const polygons = polygonsOf(geometry, bufferFt, toLocal);
    if (polygons === null)
      notes.problems.push({
        code: "constraint-needs-buffer",
        where: "constraints",
        row: i + 1,
        message: `${name} is a ${geometry.type} without a width.`,
        remedy: "Give it bufferFt, the distance to keep on each side, or send a polygon.",
      });
    else areas.push({ name, kind: kindOf(properties.kind), polygons });
  });
  return areas;
}

/** Names the constraints that reach nowhere near the lot: one drawn in other coordinates takes nothing, and nobody would see it. */
export function noteOffLot(areas: readonly NoBuildArea[], boundary: Ring, notes: IntakeNotes): void {
  const lot = boxOf(boundary);
  const off = areas.filter(({ polygons }) => !boxesMeet(boxOf(polygons.flat(2)), lot));
  if (off.length === 0) return;
  const named = off.slice(0, MOST_NAMED).map(({ name }) => shown(name));
  notes.warnings.push({
    code: "constraints-off-lot",
    message: `Constraints that do not reach the lot, and take nothing from it: ${off.length} of ${areas.length} (${named.join(", ")}${off.length > named.length ? ", …" : ""}).`,
    remedy:
      "Nothing to do where they belong to other ground; else check their coordinates, which must be the survey's.",
  });
}

function boxesMeet(a: Box, b: Box): boolean {
  return (
    a.minEastFt <= b.maxEastFt &&
    b.minEastFt <= a.maxEastFt &&
    a.minNorthFt <= b.maxNorthFt &&
    b.minNorthFt <= a.maxNorthFt
  );
}

function kindOf(kind: unknown): NoBuildArea["kind"] {
  return kind === "easement" || kind === "tree" || kind === "watercourse" ? kind : "no-build";
}

/** Null for a line or point without a buffer. */
function polygonsOf(
  { type, lines, ringsPerPolygon }: PlainFeature["geometry"],
  bufferFt: number,
  toLocal: (at: Point) => Point,
): MultiPolygon | null {
  const paths = lines.map((line) => line.map(([x, y]) => toLocal([x!, y!])));
  if (!type.includes("Polygon"))
    return bufferFt > 0 ? unionOf(paths.flatMap((path) => stripAlong(path, bufferFt)).flat()) : null;
  let taken = 0;
  const polygons = ringsPerPolygon.flatMap((rings) => {
    taken += rings;
    return unionOf(paths.slice(taken - rings, taken).map(wound));
  });
  return bufferFt > 0 ? offsetOf(polygons, bufferFt) : polygons;
}

/** The first ring of a polygon counter-clockwise, its holes clockwise, whichever way they were sent. */
function wound(ring: Ring, place: number): Ring {
  return signedAreaFt2(ring) > 0 === (place === 0) ? ring : ring.toReversed();
}
