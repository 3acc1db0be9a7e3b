/** Coordinate reference systems that intake knows: state plane zones, UTM, and degrees. */
import type { Point } from "../geometry/plane.js";
import { type LengthUnit, METRES_PER_FOOT } from "../units.js";
import { projection } from "./projections.js";
import { STATE_PLANE_ZONES } from "./state-plane-zones.js";

export interface Crs {
  /** "EPSG:2227"; for a plane laid through one lot, words. */
  readonly code: string;
  readonly name: string;
  readonly unit: LengthUnit | "degree";
  readonly proj4: string;
}

export const WGS84: Crs = {
  code: "EPSG:4326",
  name: "WGS 84 longitude and latitude",
  unit: "degree",
  proj4: "+proj=longlat +datum=WGS84 +no_defs",
};

/** Degrees on NAD83 agree with WGS 84 within two metres, and the two corners of one lot within nothing. */
const DEGREES: readonly string[] = ["4326", "4269", "6318"];

/** Null for a code that is not offered. */
export function crsOf(code: string): Crs | null {
  const number = code.replace(/^EPSG:/, "");
  if (DEGREES.includes(number)) return { ...WGS84, code: `EPSG:${number}` };
  return stateplane(number) ?? utm(Number(number));
}

function stateplane(number: string): Crs | null {
  for (const line of STATE_PLANE_ZONES.split("\n")) {
    const [codes = "", name = "", unit = "", parameters = ""] = line.split("|");
    if (!codes.split(" ").includes(number)) continue;
    const definition = parameters
      .split(" ")
      .map((p) => `+${p}`)
      .join(" ");
    return {
      code: `EPSG:${number}`,
      name: `state plane, ${name}`,
      unit: unit as LengthUnit,
      proj4: `${definition} +ellps=GRS80 +towgs84=0,0,0,0,0,0,0 +units=${unit} +no_defs`,
    };
  }
  return null;
}

/** First code and zone of each run of UTM codes (EPSG). */
const UTM_RUNS = [
  { first: 32601, zones: [1, 60], hemisphere: "N", ellipsoid: "+datum=WGS84" },
  { first: 32701, zones: [1, 60], hemisphere: "S", ellipsoid: "+south +datum=WGS84" },
  { first: 26901, zones: [1, 23], hemisphere: "N", ellipsoid: "+ellps=GRS80 +towgs84=0,0,0,0,0,0,0" },
  { first: 6330, zones: [1, 19], hemisphere: "N", ellipsoid: "+ellps=GRS80 +towgs84=0,0,0,0,0,0,0" },
] as const;

function utm(number: number): Crs | null {
  for (const { first, zones, hemisphere, ellipsoid } of UTM_RUNS) {
    const zone = number - first + zones[0];
    if (zone >= zones[0] && zone <= zones[1])
      return {
        code: `EPSG:${number}`,
        name: `UTM zone ${zone}${hemisphere}`,
        unit: "m",
        proj4: `+proj=utm +zone=${zone} ${ellipsoid} +units=m +no_defs`,
      };
  }
  return null;
}

/** False origin of a plane laid through one lot, ft: large enough that no place on it can be mistaken for degrees. */
const LOCAL_PLANE_ORIGIN_FT = 100_000;

/** A transverse Mercator plane in feet that touches the ellipsoid at the lot: distances on it are those on the ellipsoid. */
export function planeThrough([lon, lat]: Point): Crs {
  const [lon0, lat0] = [lon.toFixed(4), lat.toFixed(4)];
  const origin = LOCAL_PLANE_ORIGIN_FT * METRES_PER_FOOT;
  return {
    code: `local plane at ${lat0}, ${lon0}`,
    name: `plane through ${lat0}, ${lon0}`,
    unit: "ft",
    proj4: `+proj=tmerc +lat_0=${lat0} +lon_0=${lon0} +k=1 +x_0=${origin} +y_0=${origin} +datum=WGS84 +units=ft +no_defs`,
  };
}

/** Coordinates of one system in another. */
export function between(from: Crs, to: Crs): (at: Point) => Point {
  if (from.proj4 === to.proj4) return (at) => at;
  const converter = projection(from.proj4, to.proj4);
  return ([x, y]) => converter.forward([x, y]) as [number, number];
}

/** Widest reach of a zone from its own origin, degrees. */
const REACH_DEG = { lat: 12, lon: 9 };

/** False for coordinates that a system cannot mean: degrees beyond the poles, or places far from the zone. */
export function isPlausible(crs: Crs, at: Point): boolean {
  if (crs.unit === "degree") return Math.abs(at[0]) <= 180 && Math.abs(at[1]) <= 90;
  const [lon, lat] = between(crs, WGS84)(at);
  if (!Number.isFinite(lon) || !Number.isFinite(lat)) return false;
  const zone = /\+zone=(\d+)/.exec(crs.proj4)?.[1];
  const lon0 = zone ? Number(zone) * 6 - 183 : Number(/\+lonc?(?:_0)?=(-?[\d.]+)/.exec(crs.proj4)?.[1]);
  const lat0 = zone ? lat : Number(/\+lat_0=(-?[\d.]+)/.exec(crs.proj4)?.[1]);
  return Math.abs(lon - lon0) < REACH_DEG.lon && Math.abs(lat - lat0) < REACH_DEG.lat && Math.abs(lat) < 85;
}
