/** Grade beams on a grid under the house, and piers along them. */
import { distanceToRingFt, type Point, type Ring, ringContains } from "../geometry/plane.js";

/** Beam lines at most this far apart, piers at most that far along them. Common practice, no source. */
export const BEAM_LINES_FT = 16;
export const PIER_SPACING_FT = 8;
/** Piers closer than this are one. */
const SAME_PIER_FT = 0.5;
const ON_EDGE_FT = 0.25;

export interface PierLayout {
  readonly piers: readonly Point[];
  readonly beamFt: number;
}

/**
 * Beams along both axes of the house, at its faces and between them; a pier at each crossing and between crossings
 * where those are far apart. Parts of the grid outside the ring are left out.
 */
export function pierLayout(ring: Ring, rotationDeg: number): PierLayout {
  const turn = (rotationDeg * Math.PI) / 180;
  const u: Point = [Math.sin(turn), Math.cos(turn)];
  const v: Point = [-u[1], u[0]];
  const us = ring.map((p) => p[0] * u[0] + p[1] * u[1]);
  const vs = ring.map((p) => p[0] * v[0] + p[1] * v[1]);
  const uLines = linesBetween(us);
  const vLines = linesBetween(vs);
  const at = (a: number, b: number): Point => [a * u[0] + b * v[0], a * u[1] + b * v[1]];
  const inside = (p: Point) => ringContains(ring, p) || distanceToRingFt(ring, p) < ON_EDGE_FT;
  const piers: Point[] = [];
  let beamFt = 0;
  const span = (from: Point, to: Point) => {
    if (!inside(from) || !inside(to) || !inside([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2])) return;
    const lengthFt = Math.hypot(to[0] - from[0], to[1] - from[1]);
    beamFt += lengthFt;
    const parts = Math.max(1, Math.ceil(lengthFt / PIER_SPACING_FT - 1e-9));
    for (let i = 0; i <= parts; i++) {
      const t = i / parts;
      addPier(piers, [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])]);
    }
  };
  for (const b of vLines)
    for (let i = 0; i + 1 < uLines.length; i++) span(at(uLines[i]!, b), at(uLines[i + 1]!, b));
  for (const a of uLines)
    for (let i = 0; i + 1 < vLines.length; i++) span(at(a, vLines[i]!), at(a, vLines[i + 1]!));
  return { piers, beamFt };
}

/** One row of piers along a line, for the open side of a basement. */
export function pierRow(from: Point, to: Point): PierLayout {
  const beamFt = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const parts = Math.max(1, Math.ceil(beamFt / PIER_SPACING_FT - 1e-9));
  const piers = Array.from({ length: parts + 1 }, (_, i): Point => {
    const t = i / parts;
    return [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
  });
  return { piers, beamFt };
}

/** Every face of the ring, and lines between faces no farther apart than BEAM_LINES_FT. */
function linesBetween(corners: readonly number[]): number[] {
  const faces = [...corners].sort((a, b) => a - b).filter((c, i, all) => i === 0 || c - all[i - 1]! > 1);
  return faces.flatMap((face, i) => {
    const next = faces[i + 1];
    if (next === undefined) return [face];
    const parts = Math.max(1, Math.ceil((next - face) / BEAM_LINES_FT - 1e-9));
    return Array.from({ length: parts }, (_, k) => face + (k * (next - face)) / parts);
  });
}

function addPier(piers: Point[], [x, y]: Point): void {
  if (!piers.some((p) => Math.hypot(p[0] - x, p[1] - y) < SAME_PIER_FT)) piers.push([x, y]);
}
