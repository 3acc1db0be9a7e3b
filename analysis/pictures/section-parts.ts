/** What stands in the ground where a section is cut: piers, walls, wells, drains, the open dig. */
import type { DrainTier } from "../drainage/drainage.js";
import type { Point } from "../geometry/plane.js";
import { WELL_OVER_FLOOR_FT } from "../structure/light-wells.js";
import { crossings, spansInside } from "./line-crossings.js";
import type { PictureScheme } from "./picture-input.js";
import type { Section } from "./pictures.js";
import { to01 } from "./thin.js";

/** How far to either side of the line piers, wells and drains still belong to the picture. */
const BESIDE_FT = 5;
const LIGHT_WELL_WIDTH_FT = 3;

/** Where a place lies along the line, and how far beside it. */
function along([x, y]: Point, from: Point, [dx, dy]: Point): { atFt: number; besideFt: number } {
  const ex = x - from[0];
  const ey = y - from[1];
  return { atFt: ex * dx + ey * dy, besideFt: Math.abs(ex * dy - ey * dx) };
}

export function piersNear(
  { structure }: PictureScheme,
  pointAt: (atFt: number) => Point,
  direction: Point,
  lengthFt: number,
  groundAt: (atFt: number) => number,
  levels: Section["levels"],
): Section["piers"] {
  const { pierAt, pierDepthFt } = structure.foundation;
  const drawn: Section["piers"][number][] = [];
  const all = pierAt
    .map((pier) => along(pier, pointAt(0), direction))
    .filter(({ atFt }) => atFt > 0 && atFt < lengthFt);
  // Where no row of piers is cut, the nearest one behind or before the cut is drawn.
  const reachFt = Math.max(BESIDE_FT, Math.min(...all.map((pier) => pier.besideFt)) + 1);
  const near = all
    .filter(({ besideFt }) => besideFt <= reachFt)
    .map(({ atFt, besideFt }) => ({ atFt: underHouse(atFt, levels), besideFt }))
    .sort((a, b) => a.atFt - b.atFt || a.besideFt - b.besideFt);
  for (const { atFt } of near) {
    const groundFt = groundAt(atFt);
    if (Number.isNaN(groundFt) || drawn.some((pier) => Math.abs(pier.atFt - atFt) < 3)) continue;
    const carried = levels.filter((level) => atFt >= level.fromFt - 1 && atFt <= level.toFt + 1);
    const underFt = carried.length > 0 ? Math.min(...carried.map((level) => level.elevationFt)) : groundFt;
    // The hole is drilled from the lower of natural and graded ground.
    drawn.push({
      atFt: to01(atFt),
      topFt: to01(underFt),
      bottomFt: to01(Math.min(groundFt, underFt) - pierDepthFt[1]),
    });
  }
  return drawn;
}

/** Piers stand under the house: seen along their row, those of a house askew to the cut lie under its cut part. */
function underHouse(atFt: number, levels: Section["levels"]): number {
  const fromFt = Math.min(...levels.map((level) => level.fromFt));
  const toFt = Math.max(...levels.map((level) => level.toFt));
  return fromFt < toFt ? Math.min(Math.max(atFt, fromFt + 1), toFt - 1) : atFt;
}

export function wallsAcross(
  { design }: PictureScheme,
  from: Point,
  direction: Point,
  lengthFt: number,
  designAt: (atFt: number) => number,
  groundAt: (atFt: number) => number,
): Section["walls"] {
  return design.walls
    .flatMap((wall) =>
      crossings(wall.line, false, from, direction, lengthFt).map(({ atFt, share }) => {
        const heightFt = heightAlong(wall.heightsFt, share) ?? wall.retainedFt;
        const beside = [atFt - 1.5, atFt + 1.5].flatMap((x) => {
          const graded = designAt(x);
          const surface = Number.isNaN(graded) ? groundAt(x) : graded;
          return Number.isNaN(surface) ? [] : [surface];
        });
        const bottomFt = beside.length > 0 ? Math.min(...beside) : groundAt(atFt);
        return {
          atFt: to01(atFt),
          bottomFt: to01(bottomFt),
          topFt: to01(bottomFt + heightFt),
          kind: wall.kind,
        };
      }),
    )
    .filter((wall) => Number.isFinite(wall.bottomFt));
}

/** Linear between evenly spaced heights. */
function heightAlong(heightsFt: readonly number[], share: number): number | undefined {
  if (heightsFt.length === 0) return undefined;
  const x = share * (heightsFt.length - 1);
  const i = Math.min(Math.floor(x), heightsFt.length - 2);
  return heightsFt.length === 1
    ? heightsFt[0]
    : heightsFt[i]! + (heightsFt[i + 1]! - heightsFt[i]!) * (x - i);
}

export function wellsNear(
  { design, structure }: PictureScheme,
  from: Point,
  direction: Point,
  lengthFt: number,
  levels: Section["levels"],
): Section["wells"] {
  const floorFt = design.levels.find((level) => level.role === "basement")?.floorElevationFt;
  const basement = levels.find((level) => level.role === "basement");
  if (floorFt === undefined || !structure.basement) return [];
  return structure.basement.wells.flatMap((well) => {
    const { atFt, besideFt } = along(well.at, from, direction);
    // A well before the wall that is cut is seen from the cut however far along the wall it stands, unless a garage hides it.
    const before = basement !== undefined && !levels.some((l) => atFt > l.fromFt && atFt < l.toFt);
    if ((besideFt > BESIDE_FT && !before) || atFt < 0 || atFt > lengthFt) return [];
    return [
      {
        atFt: to01(atFt),
        widthFt: LIGHT_WELL_WIDTH_FT,
        bottomFt: to01(floorFt + WELL_OVER_FLOOR_FT),
        topFt: to01(floorFt + WELL_OVER_FLOOR_FT + well.depthFt),
      },
    ];
  });
}

/** Each drain once: where its route crosses the line, else where it starts when that is near. */
export function drainsAcross(
  { drainage }: PictureScheme,
  from: Point,
  direction: Point,
  lengthFt: number,
  levels: Section["levels"],
): Section["drains"] {
  const uphillFt = Math.min(
    ...levels.filter((level) => level.role !== "garage").map((level) => level.fromFt),
  );
  const place = (tier: DrainTier): number | undefined => {
    const crossed = crossings(tier.route, false, from, direction, lengthFt)[0]?.atFt;
    if (crossed !== undefined || !Number.isFinite(uphillFt)) return crossed;
    // Drains follow the uphill foot of the house; the slab's lie just inside it, the wall's just outside.
    return tier.tier === "under-slab" ? uphillFt + 3 : tier.tier === "wall" ? uphillFt - 1 : undefined;
  };
  return drainage.tiers.flatMap((tier) => {
    const atFt = place(tier);
    return atFt === undefined ? [] : [{ atFt: to01(atFt), elevFt: to01(tier.invertFt), tier: tier.tier }];
  });
}

/** The open face of the dig, from the working space at its foot up to where it meets the ground, on both sides. */
export function temporaryCut(
  { design }: PictureScheme,
  from: Point,
  direction: Point,
  lengthFt: number,
  groundAt: (atFt: number) => number,
  levels: Section["levels"],
  workingSpaceFt: number,
): Section["temporary"] {
  const basement = levels.find((level) => level.role === "basement");
  const outer = design.temporary?.outline[0];
  if (!basement || !outer) return [];
  const spans = spansInside(outer, from, direction, lengthFt);
  const [first, last] = [spans[0], spans.at(-1)];
  if (!first || !last) return [];
  const sides: [number, number][] = [
    [first[0], basement.fromFt - workingSpaceFt],
    [last[1], basement.toFt + workingSpaceFt],
  ];
  return sides.flatMap(([topAtFt, footAtFt]) => {
    const topFt = groundAt(topAtFt);
    if (!(topFt > basement.elevationFt + 1)) return [];
    return [
      {
        fromFt: to01(footAtFt),
        fromElevFt: basement.elevationFt,
        toFt: to01(topAtFt),
        toElevFt: to01(topFt),
      },
    ];
  });
}
