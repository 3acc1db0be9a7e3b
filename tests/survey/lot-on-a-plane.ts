/** A survey made in the test: a square lot of 200 ft on a plane that rises 0.2 ft per foot to the north-east. */

export interface Shot {
  readonly n: number;
  readonly e: number;
  readonly z: number;
  readonly d?: string;
}

export const ORIGIN = { e: 5_000, n: 10_000 };

export function planeZ(e: number, n: number): number {
  return 700 + 0.12 * (e - ORIGIN.e) + 0.16 * (n - ORIGIN.n);
}

/** Shots every 25 ft, a little off the square so that nothing is collinear, 50 ft past the lot on all sides. */
export function planeShots(): Shot[] {
  const shots: Shot[] = [];
  for (let i = 0; i <= 12; i++)
    for (let j = 0; j <= 12; j++) {
      const e = ORIGIN.e - 50 + 25 * i + ((7 * i + 3 * j) % 5);
      const n = ORIGIN.n - 50 + 25 * j + ((5 * i + 11 * j) % 7);
      shots.push({ e, n, z: planeZ(e, n), d: "GS" });
    }
  return shots;
}

export function asTable(shots: readonly Shot[]): string {
  const rows = shots.map(
    ({ n, e, z, d = "" }, i) => `${i + 1},${n.toFixed(3)},${e.toFixed(3)},${z.toFixed(3)},${d}`,
  );
  return ["point,northing,easting,elevation,description", ...rows].join("\n");
}

export const SQUARE = [
  "corner,northing,easting",
  "1,10000,5000",
  "2,10000,5200",
  "3,10200,5200",
  "4,10200,5000",
].join("\n");
