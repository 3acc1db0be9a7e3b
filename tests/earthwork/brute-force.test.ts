/** Design surfaces of all shapes against a fine raster written for the purpose (raster-volumes.ts). */
import { describe, expect, test } from "vitest";
import { gradedGround, gradeSurface, type Pad, type Side } from "../../analysis/earthwork/index.js";
import { areaFt2, type Point, type Ring } from "../../analysis/geometry/plane.js";
import { elevationAt } from "../../analysis/terrain/index.js";
import { formulaSite } from "../support/sites.js";
import { rasterVolumes } from "./raster-volumes.js";

const { tin } = formulaSite(
  (x, y) =>
    500 + 0.15 * y + 0.04 * x + 3 * Math.sin(x / 31) * Math.cos(y / 23) + 2 * Math.sin((x + 2 * y) / 17),
  { widthFt: 300, depthFt: 300, beyondFt: 40, spacingFt: 13 },
).terrain;
const ground = (x: number, y: number) => elevationAt(tin, x, y);

const turned = (ring: Ring, deg: number, [mx, my]: Point = [150, 150]): Ring => {
  const cos = Math.cos((deg * Math.PI) / 180);
  const sin = Math.sin((deg * Math.PI) / 180);
  return ring.map(
    ([x, y]): Point => [mx + cos * (x - mx) - sin * (y - my), my + sin * (x - mx) + cos * (y - my)],
  );
};
const box = (west: number, south: number, east: number, north: number): Ring => [
  [west, south],
  [east, south],
  [east, north],
  [west, north],
];
const ell: Ring = [
  [120, 120],
  [190, 120],
  [190, 150],
  [150, 150],
  [150, 185],
  [120, 185],
];
const you: Ring = [
  [110, 110],
  [190, 110],
  [190, 180],
  [170, 180],
  [170, 135],
  [130, 135],
  [130, 180],
  [110, 180],
];

interface Case {
  name: string;
  pads: Pad[];
  limit?: Ring;
  bare?: (pad: number, edge: number) => boolean;
}
const mean = (ring: Ring) => ring.reduce((sum, [x, y]) => sum + ground(x, y), 0) / ring.length;
const level = (ring: Ring, above = 0): Pad => ({ ring, levelFt: mean(ring) + above });
const rect = turned(box(120, 125, 180, 165), 27);
const upper = turned(box(120, 150, 180, 172), 12);
const lower = turned(box(120, 128, 180, 150), 12);
const stepped: Side[] = ["wall", "batter", "batter", "batter"];
const steppedLower: Side[] = ["batter", "batter", "wall", "batter"];

const cases: Case[] = [
  { name: "a turned rectangle", pads: [level(rect)] },
  { name: "a turned rectangle, deep in cut", pads: [level(rect, -6)] },
  { name: "a turned rectangle, high on fill", pads: [level(rect, 5)] },
  { name: "an L", pads: [level(turned(ell, 20))] },
  { name: "an L deep in cut", pads: [level(turned(ell, 100), -7)] },
  { name: "a U", pads: [level(turned(you, 33), -4)] },
  {
    name: "two levels with a wall between",
    pads: [
      { ...level(upper, 0), sides: stepped },
      { ...level(lower, 0), sides: steppedLower },
    ],
    bare: (pad, edge) => (pad === 0 ? edge === 0 : edge === 2),
  },
  {
    name: "house and garage apart",
    pads: [level(turned(box(110, 120, 160, 160), 15)), level(turned(box(185, 150, 207, 172), 15), -3)],
  },
  {
    name: "a wall uphill, banks elsewhere",
    pads: [{ ...level(rect, -4), sides: ["batter", "batter", "wall", "batter"] }],
    bare: (_, edge) => edge === 2,
  },
  { name: "a lot line close by", pads: [level(rect, -5)], limit: turned(box(100, 112, 196, 176), 20) },
  {
    name: "a lot line with an inward corner",
    pads: [level(rect, -5)],
    limit: [
      [90, 90],
      [215, 90],
      [215, 150],
      [190, 160],
      [215, 178],
      [215, 215],
      [90, 215],
    ],
  },
];

const CELL_FT = 1;
/** What cells of that size do to a volume. */
const VOLUME = 0.004;

describe("pads, banks and walls against a fine raster", () => {
  for (const { name, pads, limit, bare } of cases)
    test(name, () => {
      const batters = { cutBatter: 1.5, fillBatter: 2 };
      const got = gradeSurface(tin, { pads, ...batters, limit: limit ?? null });
      const want = rasterVolumes(ground, {
        pads,
        ...batters,
        cellFt: CELL_FT,
        marginFt: 55,
        ...(limit && { limit }),
        ...(bare && { bare }),
      });
      for (const side of ["cutFt3", "fillFt3"] as const)
        expect(Math.abs(got[side] - want[side])).toBeLessThan(VOLUME * want[side] + 4);
      for (const side of ["cutFt2", "fillFt2"] as const)
        expect(Math.abs(got[side] - want[side])).toBeLessThan(0.01 * want[side] + 15);

      const { cut, fill, depth } = gradedGround(got);
      expect(Math.abs(areaFt2(cut) - got.cutFt2)).toBeLessThan(0.02);
      expect(Math.abs(areaFt2(fill) - got.fillFt2)).toBeLessThan(0.02);
      const over = (keep: (v: number) => boolean) =>
        depth.values.reduce((sum, v) => sum + (keep(v) ? Math.abs(v) : 0), 0) * depth.grid.cellFt ** 2;
      expect(Math.abs(over((v) => v > 0) - got.cutFt3)).toBeLessThan(0.005 * got.cutFt3 + 10);
      expect(Math.abs(over((v) => v < 0) - got.fillFt3)).toBeLessThan(0.005 * got.fillFt3 + 10);
    });
});
