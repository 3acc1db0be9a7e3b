/** GeoJSON (RFC 7946 in shape; coordinates may be planar) flattened to features of lines. */

export interface PlainFeature {
  readonly geometry: {
    readonly type: "Point" | "MultiPoint" | "LineString" | "MultiLineString" | "Polygon" | "MultiPolygon";
    /** Each point, line or ring as a list of positions. */
    readonly lines: readonly (readonly (readonly number[])[])[];
    /** Number of rings of each polygon. */
    readonly ringsPerPolygon: readonly number[];
  };
  readonly properties: Readonly<Record<string, unknown>>;
}

/** Collections nested deeper than this are no drawing. */
const DEEPEST = 8;

type Json = Readonly<Record<string, unknown>>;

/** Features of a collection, a feature, a geometry or a geometry collection; null when the value is no GeoJSON or holds a position that is not two or three finite numbers. */
export function readFeatures(value: unknown, depth = 0): PlainFeature[] | null {
  if (!isObject(value) || depth > DEEPEST) return null;
  if (value.type === "FeatureCollection") {
    if (!Array.isArray(value.features)) return null;
    const features = value.features.map((feature) => readFeatures(feature, depth + 1));
    return features.every((f) => f !== null) ? features.flat() : null;
  }
  if (value.type === "Feature") {
    const properties = isObject(value.properties) ? value.properties : {};
    const geometries = value.geometry === null ? [] : readGeometry(value.geometry, depth);
    return geometries?.map((geometry) => ({ geometry, properties })) ?? null;
  }
  return readGeometry(value, depth)?.map((geometry) => ({ geometry, properties: {} })) ?? null;
}

/** How far each type nests its positions. */
const NESTING = {
  Point: 0,
  MultiPoint: 1,
  LineString: 1,
  MultiLineString: 2,
  Polygon: 2,
  MultiPolygon: 3,
} as const;

function readGeometry(value: unknown, depth: number): PlainFeature["geometry"][] | null {
  if (!isObject(value) || depth > DEEPEST) return null;
  if (value.type === "GeometryCollection") {
    if (!Array.isArray(value.geometries)) return null;
    const parts = value.geometries.map((part) => readGeometry(part, depth + 1));
    return parts.every((p) => p !== null) ? parts.flat() : null;
  }
  const type = value.type;
  if (typeof type !== "string" || !(type in NESTING)) return null;
  const known = type as keyof typeof NESTING;
  const { coordinates } = value;
  const polygons: unknown[] = known === "MultiPolygon" ? asList(coordinates) : [coordinates];
  const lines =
    NESTING[known] === 0 ? [[coordinates]] : NESTING[known] === 1 ? [coordinates] : polygons.flatMap(asList);
  const points = known === "MultiPoint" ? asList(coordinates).map((position) => [position]) : lines;
  if (!points.every(isLine)) return null;
  return [{ type: known, lines: points, ringsPerPolygon: polygons.map((p) => asList(p).length) }];
}

function isObject(value: unknown): value is Json {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function asList(value: unknown): unknown[] {
  return Array.isArray(value) ? value : [value];
}

function isLine(line: unknown): line is number[][] {
  return (
    Array.isArray(line) &&
    line.length > 0 &&
    line.every((p) => Array.isArray(p) && p.length >= 2 && p.slice(0, 3).every((v) => Number.isFinite(v)))
  );
}
