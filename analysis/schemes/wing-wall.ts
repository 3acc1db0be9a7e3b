/** The wall that keeps the fill below an upper garage off the strip before the open wall of a lower level. */
import type { StudyRequest } from "../request/request.js";
import type { FootprintShape } from "./footprints.js";
import type { GroundGrid } from "./ground-grid.js";
import { FLOOR_OVER_GRADE_FT, heightAt } from "./model.js";
import type { Place } from "./place.js";
import { garageDeckIsTop } from "./stepped-pad.js";

const STATIONS = 3;
/** Ground is read this far on the garage's side of the wall. */
const BESIDE_FT = 1;

export interface WingWall {
  /** In the house's own axes: along v at this u. */
  readonly u: number;
  readonly v0: number;
  readonly v1: number;
  /** Fill held, evenly spaced from v0 to v1; 0 where the ground stands as high by itself. */
  readonly heightsFt: readonly number[];
}

/** Null without a garage on the upper floor, or without a strip to hold it off. */
export function wingWall(
  place: Place,
  { house, garage, ...shape }: FootprintShape,
  floorFt: number,
  { apronFt, fillBatter, floorToFloorFt }: StudyRequest["rules"],
  ground: GroundGrid,
): WingWall | null {
  if (!garage || !(apronFt.downhill > 0) || !garageDeckIsTop({ house, garage, ...shape })) return null;
  const garageEnd = garage.v1 + garageStripFt(house.v1 - garage.v1, apronFt);
  const onHighSide = garage.u0 > house.u0;
  const u = onHighSide ? house.u1 : house.u0;
  const [v0, v1] = [house.v1, house.v1 + apronFt.downhill];
  const heightsFt = Array.from({ length: STATIONS }, (_, i) => {
    const v = v0 + (i / (STATIONS - 1)) * (v1 - v0);
    const overStripFt = floorToFloorFt - (v - garageEnd) / fillBatter;
    const fillFt = floorFt - FLOOR_OVER_GRADE_FT + overStripFt;
    const isFilled = !(heightAt(place, u + (onHighSide ? BESIDE_FT : -BESIDE_FT), v, ground) >= fillFt);
    return isFilled ? Math.max(0, overStripFt) : 0;
  });
  return { u, v0, v1, heightsFt };
}

/** Graded strip downhill of an upper garage: it stops at the line of the house's open wall, so that no pad hangs over the strip there. */
export function garageStripFt(behindOpenWallFt: number, apron: { readonly downhill: number }): number {
  return Math.max(0, Math.min(apron.downhill, behindOpenWallFt));
}
