/** Prices, ways in and seeded hills for trying schemes. Prices are round numbers from memory, of the order of the cost book's. */
import type { Reach } from "../../analysis/access/index.js";
import type { Site } from "../../analysis/lot/index.js";
import { proposeSchemes, type SchemeDesign } from "../../analysis/schemes/index.js";
import { judgeFor } from "../../analysis/schemes/judge.js";

export const PRICES = {
  EXCAV: 16,
  "EXCAV-BSMT": 26,
  HAUL: 24,
  DUMP: 14,
  IMPORT: 50,
  FILL: 18,
  BACKFILL: 45,
  KEYBENCH: 22,
  SHORE: 95,
  TOPSOIL: 12,
  CLEAR: 10_000,
  "WALL-4": 75,
  "WALL-6": 110,
  "WALL-8": 150,
  "WALL-10": 195,
  "WALL-12": 250,
  BSMTWALL: 85,
  WPROOF: 16,
  "DRAIN-WALL": 48,
  TIGHTLINE: 55,
  DRIVE: 19,
  UTIL: 240,
  PIER: 150,
};

/** No street is known: the drive stays out of the comparison. */
export function noReach(site: Site): Reach {
  const { grid } = site.terrain.elevation;
  const distanceFt = { grid, values: new Float32Array(grid.cols * grid.rows).fill(NaN) };
  return {
    entry: null,
    entryElevFt: NaN,
    entryOrigin: "unknown",
    distanceFt,
    entries: [],
    lanes: { grid, elevFt: distanceFt.values, clearanceFt: distanceFt.values },
  } as unknown as Reach;
}

export function schemesOf(site: Site, reach: Reach = noReach(site)): readonly SchemeDesign[] {
  return proposeSchemes(site, { reach, prices: PRICES });
}

export function judgeOf(site: Site, reach: Reach = noReach(site)) {
  return judgeFor(site, reach, PRICES);
}

/** A hillside of a plane and five rises or hollows of up to 5 ft, from a seed. */
export function seededHills(seed: number): (eastFt: number, northFt: number) => number {
  let state = seed * 7919 + 13;
  const random = () => {
    state = (state * 1103515245 + 12345) % 2 ** 31;
    return state / 2 ** 31;
  };
  const towards = random() * 2 * Math.PI;
  const grade = 0.05 + 0.2 * random();
  const bumps = Array.from({ length: 5 }, () => ({
    x: random() * 120 - 10,
    y: random() * 120 - 10,
    height: (random() - 0.5) * 10,
    width: 15 + random() * 30,
  }));
  return (x, y) =>
    500 +
    grade * ((x - 50) * Math.cos(towards) + (y - 50) * Math.sin(towards)) +
    bumps.reduce(
      (z, b) => z + b.height * Math.exp(-((x - b.x) ** 2 + (y - b.y) ** 2) / (2 * b.width ** 2)),
      0,
    );
}
