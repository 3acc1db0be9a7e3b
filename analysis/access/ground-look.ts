/** Ground height and fall at any place of a lane grid, by bilinear interpolation between cell centres. */
import type { LaneGround } from "./access.js";

export class GroundLook {
  /** Of the place last looked at. */
  elevFt = NaN;
  gradEast = 0;
  gradNorth = 0;
  clearanceFt = NaN;
  readonly #lanes: LaneGround;

  constructor(lanes: LaneGround) {
    this.#lanes = lanes;
  }

  /** False where the ground is not known. */
  at(eastFt: number, northFt: number): boolean {
    const { grid, elevFt, clearanceFt } = this.#lanes;
    const u = (eastFt - grid.originEastFt) / grid.cellFt - 0.5;
    const v = (northFt - grid.originNorthFt) / grid.cellFt - 0.5;
    const col = Math.floor(u);
    const row = Math.floor(v);
    if (col < 0 || row < 0 || col + 1 >= grid.cols || row + 1 >= grid.rows) return false;
    const i = row * grid.cols + col;
    const j = i + grid.cols;
    const fu = u - col;
    const fv = v - row;
    const z00 = elevFt[i]!;
    const z10 = elevFt[i + 1]!;
    const z01 = elevFt[j]!;
    const z11 = elevFt[j + 1]!;
    const south = z00 + fu * (z10 - z00);
    const north = z01 + fu * (z11 - z01);
    this.elevFt = south + fv * (north - south);
    if (Number.isNaN(this.elevFt)) return false;
    this.gradEast = ((1 - fv) * (z10 - z00) + fv * (z11 - z01)) / grid.cellFt;
    this.gradNorth = (north - south) / grid.cellFt;
    const c0 = clearanceFt[i]! + fu * (clearanceFt[i + 1]! - clearanceFt[i]!);
    const c1 = clearanceFt[j]! + fu * (clearanceFt[j + 1]! - clearanceFt[j]!);
    this.clearanceFt = c0 + fv * (c1 - c0);
    return true;
  }
}
