/** How much water comes, and how soon: the formulas of small catchments. */
import type { Soil } from "../request/request.js";
import { SQUARE_FEET_PER_ACRE } from "../units.js";

/** cfs per acre·in/h: 43,560 ft² × 1/12 ft ÷ 3,600 s, usually taken as 1. */
export const RATIONAL_K = 1.008;
/** No catchment answers faster than this in design practice. */
export const LEAST_CONCENTRATION_MIN = 5;
/** Sheet flow breaks up into rills after this length (NRCS NEH 630.15, from memory). */
export const SHEET_FLOW_FT = 100;

/**
 * Peak flow Q = k·C·i·A by the rational method, cfs; small catchments only (under 200 acres).
 * @see ODOT Hydraulics Manual ch. 7 App. F for its limits
 */
export function rationalPeakCfs(c: number, inPerHr: number, areaFt2: number, k = RATIONAL_K): number {
  return k * c * inPerHr * (areaFt2 / SQUARE_FEET_PER_ACRE);
}

/**
 * Kirpich 1940: t = K·L^0.77·S^−0.385 minutes, with K 0.0078 for feet; channel-like flow on bare ground.
 * @see TxDOT Hydraulic Design Manual ch. 4 §11, eq. 4-15
 */
export function kirpichMin(lengthFt: number, slope: number, k = 0.0078): number {
  return lengthFt <= 0 ? 0 : k * lengthFt ** 0.77 * slope ** -0.385;
}

/**
 * Sheet flow, t = 0.007·(n·L)^0.8 ÷ (P₂^0.5·s^0.4) hours, given here in minutes.
 * @see NRCS TR-55 (1986), worksheet 3
 */
export function sheetFlowMin({
  n,
  lengthFt,
  p2In,
  slope,
}: {
  n: number;
  lengthFt: number;
  p2In: number;
  slope: number;
}): number {
  return lengthFt <= 0 ? 0 : (60 * 0.007 * (n * lengthFt) ** 0.8) / (p2In ** 0.5 * slope ** 0.4);
}

/** Rain of a day that comes every other year. From memory, order of magnitude: about 2 in on dry coasts, 5 in on wet ones. */
export const P2_IN = 3.5;
/** Roughness of short grass: TR-55 table 3-1. */
export const GRASS_N = 0.15;
/** The formulas run away on level ground. */
const LEAST_SLOPE = 0.005;

/** Sheet flow over the first stretch, Kirpich for the rest, never under five minutes. */
export function concentrationMin(longestFt: number, fallFt: number): number {
  const slope = Math.max(LEAST_SLOPE, longestFt > 0 ? fallFt / longestFt : LEAST_SLOPE);
  const sheetFt = Math.min(SHEET_FLOW_FT, longestFt);
  const minutes =
    sheetFlowMin({ n: GRASS_N, lengthFt: sheetFt, p2In: P2_IN, slope }) +
    kirpichMin(longestFt - sheetFt, slope);
  return Math.max(LEAST_CONCENTRATION_MIN, minutes);
}

/** ASCE runoff coefficients as published in many drainage manuals: roofs 0.75–0.95, drives and walks 0.75–0.85. */
export const ROOF_C = 0.95;
export const DRIVE_C = 0.85;
/**
 * Pasture on sandy loam / clay and silt loam / tight clay: hilly (10–30 %) as published with the ASCE table;
 * flat and rolling from memory. Rock is taken like tight clay.
 */
const GROUND_C = { flat: [0.1, 0.3, 0.4], rolling: [0.16, 0.36, 0.55], hilly: [0.22, 0.42, 0.6] } as const;

export function groundC(kind: Soil["kind"], slopePct: number): number {
  const row = slopePct >= 10 ? GROUND_C.hilly : slopePct >= 5 ? GROUND_C.rolling : GROUND_C.flat;
  return row[kind === "sand" ? 0 : kind === "common-earth" ? 1 : 2];
}
