/** Steepness of a lot summed up from pieces of ground with known area and gradient. */
import { bandOf } from "./slope-bands.js";
import type { SlopeBand } from "./terrain.js";

export interface GradientStatistics {
  readonly planAreaFt2: number;
  readonly surfaceAreaFt2: number;
  readonly meanSlopePct: number;
  readonly aspectDeg: number;
  readonly slopeBands: readonly SlopeBand[];
}

/** Adds pieces one by one: plan area, rise per foot east and north. */
export class GradientTally {
  readonly #lowerEdgesPct: readonly number[];
  readonly #bandFt2: Float64Array;
  #plan = 0;
  #surface = 0;
  #slope = 0;
  #east = 0;
  #north = 0;

  constructor(lowerEdgesPct: readonly number[]) {
    this.#lowerEdgesPct = lowerEdgesPct;
    this.#bandFt2 = new Float64Array(lowerEdgesPct.length);
  }

  add(areaFt2: number, gradEast: number, gradNorth: number): void {
    const slope = Math.hypot(gradEast, gradNorth);
    this.#plan += areaFt2;
    this.#surface += areaFt2 * Math.sqrt(1 + slope * slope);
    this.#slope += areaFt2 * slope;
    this.#east += areaFt2 * gradEast;
    this.#north += areaFt2 * gradNorth;
    this.#bandFt2[bandOf(100 * slope, this.#lowerEdgesPct)]! += areaFt2;
  }

  /** Areas are scaled to `planAreaFt2` when the pieces only sample it (cells of a grid). */
  result(planAreaFt2 = this.#plan): GradientStatistics {
    const scale = this.#plan > 0 ? planAreaFt2 / this.#plan : 0;
    const edges = this.#lowerEdgesPct;
    return {
      planAreaFt2,
      surfaceAreaFt2: this.#surface * scale,
      meanSlopePct: this.#plan > 0 ? (100 * this.#slope) / this.#plan : 0,
      aspectDeg: azimuthDeg(-this.#east, -this.#north),
      slopeBands: edges.map((fromPct, i) => ({
        fromPct,
        toPct: edges[i + 1] ?? null,
        areaFt2: this.#bandFt2[i]! * scale,
        sharePct: this.#plan > 0 ? (100 * this.#bandFt2[i]!) / this.#plan : 0,
      })),
    };
  }
}

/** Clockwise from north, 0 ≤ azimuth < 360. */
function azimuthDeg(east: number, north: number): number {
  const azimuth = (Math.atan2(east, north) * 180) / Math.PI;
  // a hair west of north is north, not 359.999…
  return azimuth > -1e-9 ? Math.max(0, azimuth) : azimuth + 360;
}
