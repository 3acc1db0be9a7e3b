/** Pipes and swales by Manning's formula, in US units. */

/** 1.486 = 3.2808^(1/3). */
const MANNING_K = 1.486;
/** Smooth plastic pipe; a lined swale. Common handbook values. */
export const PIPE_N = 0.012;
export const SWALE_N = 0.03;
const PIPE_SIZES_IN = [4, 6, 8, 10, 12, 15, 18, 24] as const;
/** Sides of a swale, run per rise. Common practice, no source. */
const SWALE_SIDE = 3;
const FREEBOARD_FT = 0.5;

export interface FullPipe {
  readonly velocityFtPerS: number;
  readonly cfs: number;
}

/** A round pipe running full: V = (1.486 ÷ n)·(D/4)^⅔·S^½, Q = V·π·D²/4. `slope` is rise over run. */
export function fullPipe(diameterIn: number, slope: number, n = PIPE_N): FullPipe {
  const diameterFt = diameterIn / 12;
  const velocityFtPerS = (MANNING_K / n) * (diameterFt / 4) ** (2 / 3) * Math.sqrt(slope);
  return { velocityFtPerS, cfs: velocityFtPerS * (Math.PI / 4) * diameterFt ** 2 };
}

/** Smallest usual pipe that carries the flow when full; the largest listed when none does. */
export function pipeForFlowIn(cfs: number, slope: number): number {
  return PIPE_SIZES_IN.find((size) => fullPipe(size, slope).cfs >= cfs) ?? PIPE_SIZES_IN.at(-1)!;
}

/** Narrower pipes under a drive fill with leaves and gravel. Common practice, no source. */
const CULVERT_SIZES_IN = [12, 15, 18, 24, 30, 36, 42, 48] as const;
/** Corrugated plastic or metal, the rougher of the usual pipes under drives. Common handbook value. */
const CULVERT_N = 0.024;

/** Smallest usual pipe under a drive that carries the flow when full; null when one pipe does not. */
export function culvertForFlowIn(cfs: number, slope: number): number | null {
  return CULVERT_SIZES_IN.find((size) => fullPipe(size, slope, CULVERT_N).cfs >= cfs) ?? null;
}

export interface Swale {
  /** Water depth plus half a foot of freeboard. */
  readonly depthIn: number;
  readonly velocityFtPerS: number;
}

/** V-shaped swale, 3:1 sides: for depth y, A = 3y², R = A ÷ (2y√10); y = [Q·n ÷ (1.486·S^½·3·(3 ÷ (2√10))^⅔)]^⅜. */
export function swaleForFlow(cfs: number, slope: number, n = SWALE_N): Swale {
  const radiusPerDepth = SWALE_SIDE / (2 * Math.hypot(1, SWALE_SIDE));
  const depthFt =
    ((cfs * n) / (MANNING_K * Math.sqrt(slope) * SWALE_SIDE * radiusPerDepth ** (2 / 3))) ** (3 / 8);
  return {
    depthIn: (depthFt + FREEBOARD_FT) * 12,
    velocityFtPerS: cfs > 0 ? cfs / (SWALE_SIDE * depthFt ** 2) : 0,
  };
}
