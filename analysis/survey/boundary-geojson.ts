/** A lot line sent as GeoJSON or as a ring of [x, y]. */
import { boxOf, type Point } from "../geometry/plane.js";
import { readFeatures } from "./geojson.js";
import type { IntakeNotes } from "./notes.js";
import type { BoundarySource } from "./sources.js";

/** Takes the one polygon (or closed line) of a GeoJSON value. */
export function readBoundaryGeojson(value: unknown, notes: IntakeNotes): BoundarySource | null {
  const features = readFeatures(value);
  const refuse = (message: string, remedy: string) => {
    notes.problems.push({ code: "boundary-geojson", where: "boundary", message, remedy });
    return null;
  };
  if (!features)
    return refuse(
      "The boundary is not GeoJSON with numeric positions.",
      "Send a Polygon, a Feature or a FeatureCollection with one polygon.",
    );
  const lots = features.filter(({ geometry: { type } }) => type !== "Point" && type !== "MultiPoint");
  const [lot] = lots;
  const polygons = lots.reduce((sum, { geometry: g }) => sum + g.ringsPerPolygon.length, 0);
  if (!lot || polygons > 1)
    return refuse(
      lot ? `The boundary holds ${polygons} polygons.` : "The boundary holds no polygon.",
      "Send one lot at a time.",
    );
  if (lot.geometry.type === "MultiLineString" && lot.geometry.lines.length > 1)
    return refuse(
      `The boundary holds ${lot.geometry.lines.length} lines.`,
      "Send the lot line as one closed line or as a Polygon.",
    );
  if (lot.geometry.lines.length > 1)
    notes.warnings.push({
      code: "boundary-holes-ignored",
      message: "The boundary polygon has holes; the lot is taken without them.",
      remedy: "Send ground that may not be built on as constraints.",
    });
  const ring = lot.geometry.lines[0]!.map(([x, y]) => [x!, y!] as const);
  return ringSource(ring, "GeoJSON");
}

export function ringSource(ring: readonly (readonly [number, number])[], format: string): BoundarySource {
  const isDegrees =
    format === "GeoJSON" && tiny(ring) && ring.every(([x, y]) => Math.abs(x) <= 180 && Math.abs(y) <= 90);
  return {
    said: {
      axes: "named",
      unit: null,
      verticalUnit: null,
      degrees: isDegrees,
      crs: isDegrees ? "EPSG:4326" : null,
    },
    format,
    columns: null,
    ring,
    edge: ring.map((_, i) => i),
    row: null,
    traverse: null,
  };
}

/** Spread of a lot in degrees: GeoJSON of planar feet would be larger. */
const LARGEST_LOT_DEG = 0.5;

function tiny(ring: readonly Point[]): boolean {
  const { minEastFt: west, maxEastFt: east, minNorthFt: south, maxNorthFt: north } = boxOf(ring);
  return east - west < LARGEST_LOT_DEG && north - south < LARGEST_LOT_DEG;
}
