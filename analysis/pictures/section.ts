/** Cuts the ground and a scheme along one straight line. */
import type { DrainTier } from "../drainage/drainage.js";
import type { Point, Ring } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import type { Level } from "../schemes/scheme.js";
import { cellAt, heightAt } from "./ground-samples.js";
import { crossings, spansInside } from "./line-crossings.js";
import type { PictureScheme } from "./picture-scheme.js";
import type { Section } from "./pictures.js";
import { keepIndices, roundPoint, to01 } from "./thin.js";

/** Ground drawn beyond each lot line, where surveyed. */
const BEYOND_LOT_FT = 15;
/** How far to either side of the line piers, wells and drains still belong to the picture. */
const BESIDE_FT = 5;
const STEP_FT = 0.5;
/** Heights closer than this to a straight line are left out. */
const FLAT_FT = 0.03;
const LIGHT_WELL_WIDTH_FT = 3;

type Station = Section["stations"][number];

/** A section through `through` in the given direction (unit vector), from lot line to lot line and a little beyond. */
export function cutSection(site: Site, scheme: PictureScheme, through: Point, direction: Point): Section {
  const { from, to, lotFromFt, lotToFt } = lineAcrossLot(site.survey.boundary, through, direction);
  const lengthFt = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const pointAt = (atFt: number): Point => [from[0] + direction[0] * atFt, from[1] + direction[1] * atFt];
  const groundAt = (atFt: number) => heightAt(site.terrain.elevation, ...pointAt(atFt));
  const { design } = scheme;

  const tops = levelTops(design.levels, site.request.brief.storeys, site.request.rules.floorToFloorFt);
  const levels = design.levels.flatMap((level, i) =>
    spansInside(level.ring, from, direction, lengthFt).map(([fromFt, toFt]) => ({
      name: level.name,
      role: level.role,
      fromFt: to01(fromFt),
      toFt: to01(toFt),
      elevationFt: to01(level.elevationFt),
      floorFt: to01(level.floorElevationFt),
      topFt: to01(tops[i]!),
    })),
  );
  const designAt = (atFt: number): number => {
    const dug = levels
      .filter((level) => atFt >= level.fromFt && atFt <= level.toFt)
      .map((level) => level.elevationFt);
    if (dug.length > 0 && design.kind !== "pier-raised") return Math.min(...dug);
    const smooth = heightAt(design.graded.depth, ...pointAt(atFt));
    return groundAt(atFt) - (Number.isNaN(smooth) ? cellAt(design.graded.depth, ...pointAt(atFt)) : smooth);
  };

  return {
    from: roundPoint(from),
    to: roundPoint(to),
    stations: stations(lengthFt, groundAt, designAt),
    levels,
    piers: piersNear(scheme, pointAt, direction, lengthFt, groundAt, levels),
    walls: wallsAcross(scheme, from, direction, lengthFt, designAt, groundAt),
    wells: wellsNear(scheme, from, direction, lengthFt),
    drains: drainsAcross(scheme, from, direction, lengthFt, levels),
    temporary: temporaryCut(
      scheme,
      from,
      direction,
      lengthFt,
      groundAt,
      levels,
      site.request.rules.workingSpaceFt,
    ),
    lotFromFt: to01(lotFromFt),
    lotToFt: to01(lotToFt),
  };
}

/** The stretch of the line inside the lot that holds the house, widened a little at both ends. */
function lineAcrossLot(boundary: Ring, through: Point, [dx, dy]: Point) {
  // Long enough to leave the lot whichever way it points.
  const reachFt = Math.max(...boundary.map(([x, y]) => Math.hypot(x - through[0], y - through[1]))) + 1;
  const start: Point = [through[0] - dx * reachFt, through[1] - dy * reachFt];
  const spans = spansInside(boundary, start, [dx, dy], 2 * reachFt);
  const [enter, leave] = spans.find(([a, b]) => a <= reachFt && b >= reachFt) ?? spans[0] ?? [0, 2 * reachFt];
  const fromFt = enter - BEYOND_LOT_FT;
  const toFt = leave + BEYOND_LOT_FT;
  return {
    from: [start[0] + dx * fromFt, start[1] + dy * fromFt] as Point,
    to: [start[0] + dx * toFt, start[1] + dy * toFt] as Point,
    lotFromFt: BEYOND_LOT_FT,
    lotToFt: BEYOND_LOT_FT + leave - enter,
  };
}

function stations(
  lengthFt: number,
  groundAt: (atFt: number) => number,
  designAt: (atFt: number) => number,
): Station[] {
  const count = Math.max(2, Math.ceil(lengthFt / STEP_FT) + 1);
  const at = Array.from({ length: count }, (_, i) => (lengthFt * i) / (count - 1));
  const ground = at.map(groundAt);
  const design = at.map(designAt);
  const off = (values: readonly number[], i: number, a: number, b: number) => {
    const t = (i - a) / (b - a);
    const by = Math.abs(values[i]! - values[a]! - (values[b]! - values[a]!) * t);
    // A value that begins or ends between two stations must keep both.
    if (!Number.isNaN(by)) return by;
    return Number.isNaN(values[i]!) && Number.isNaN(values[a]!) && Number.isNaN(values[b]!)
      ? 0
      : edgeWeight(values, i, a, b);
  };
  const kept = keepIndices(count, (i, a, b) => Math.max(off(ground, i, a, b), off(design, i, a, b)), FLAT_FT);
  const orNull = (value: number) => (Number.isNaN(value) ? null : to01(value));
  return kept.map((i) => ({
    atFt: to01(at[i]!),
    groundFt: orNull(ground[i]!),
    designFt: orNull(design[i]!),
  }));
}

/** Splits a stretch where values begin or end: strongest right beside the change. */
function edgeWeight(values: readonly number[], i: number, a: number, b: number): number {
  const here = Number.isNaN(values[i]!);
  const changes = here !== Number.isNaN(values[i - 1]!) || here !== Number.isNaN(values[i + 1]!);
  const whole = b - a > 1;
  return changes && whole ? 1e6 : 0;
}

/** Top of each level: the floor above it where one lies on it, else its own storeys; with a basement one storey goes into the ground. */
function levelTops(levels: readonly Level[], storeys: number, floorToFloorFt: number): number[] {
  const basement = levels.find((level) => level.role === "basement");
  const above = basement ? Math.max(2, storeys) - 1 : storeys;
  const lowestHouseFt = Math.min(...levels.filter((l) => l.role === "house").map((l) => l.floorElevationFt));
  return levels.map((level) => {
    if (level.role === "house") return level.floorElevationFt + above * floorToFloorFt;
    const oneUpFt = level.floorElevationFt + floorToFloorFt;
    return level.role === "basement" && Number.isFinite(lowestHouseFt)
      ? Math.max(level.floorElevationFt + 1, Math.min(lowestHouseFt, oneUpFt))
      : oneUpFt;
  });
}

/** Where a place lies along the line, and how far beside it. */
function along([x, y]: Point, from: Point, [dx, dy]: Point): { atFt: number; besideFt: number } {
  const ex = x - from[0];
  const ey = y - from[1];
  return { atFt: ex * dx + ey * dy, besideFt: Math.abs(ex * dy - ey * dx) };
}

function piersNear(
  { structure }: PictureScheme,
  pointAt: (atFt: number) => Point,
  direction: Point,
  lengthFt: number,
  groundAt: (atFt: number) => number,
  levels: Section["levels"],
): Section["piers"] {
  const { pierAt, pierDepthFt } = structure.foundation;
  const drawn: Section["piers"][number][] = [];
  const near = pierAt
    .map((pier) => along(pier, pointAt(0), direction))
    .filter(({ atFt, besideFt }) => besideFt <= BESIDE_FT && atFt > 0 && atFt < lengthFt)
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

function wallsAcross(
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

function wellsNear(
  { design, structure }: PictureScheme,
  from: Point,
  direction: Point,
  lengthFt: number,
): Section["wells"] {
  const floorFt = design.levels.find((level) => level.role === "basement")?.elevationFt;
  if (floorFt === undefined || !structure.basement) return [];
  return structure.basement.wells.flatMap((well) => {
    const { atFt, besideFt } = along(well.at, from, direction);
    if (besideFt > BESIDE_FT || atFt < 0 || atFt > lengthFt) return [];
    return [
      {
        atFt: to01(atFt),
        widthFt: LIGHT_WELL_WIDTH_FT,
        bottomFt: to01(floorFt),
        topFt: to01(floorFt + well.depthFt),
      },
    ];
  });
}

/** Each drain once: where its route crosses the line, else where it starts when that is near. */
function drainsAcross(
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
function temporaryCut(
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
