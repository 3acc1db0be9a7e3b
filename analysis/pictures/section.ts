/** Cuts the ground and a scheme along one straight line. */
import type { Raster } from "../geometry/grid.js";
import type { Point, Ring } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import type { Level, SchemeDesign } from "../schemes/scheme.js";
import { cellAt, heightAt } from "./ground-samples.js";
import { spansInside } from "./line-crossings.js";
import type { PictureScheme } from "./picture-input.js";
import type { Section } from "./pictures.js";
import { drainsAcross, piersNear, temporaryCut, wallsAcross, wellsNear } from "./section-parts.js";
import { keepIndices, roundPoint, to01 } from "./thin.js";

/** Ground drawn beyond each lot line, where surveyed. */
const BEYOND_LOT_FT = 15;
const STEP_FT = 0.5;
/** Heights closer than this to a straight line are left out. */
const FLAT_FT = 0.03;

type Station = Section["stations"][number];

/** A section through `through` in the given direction (unit vector), from lot line to lot line and a little beyond. */
export function cutSection(site: Site, scheme: PictureScheme, through: Point, direction: Point): Section {
  const { from, to, lotFromFt, lotToFt } = lineAcrossLot(site.survey.boundary, through, direction);
  const lengthFt = Math.hypot(to[0] - from[0], to[1] - from[1]);
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
  const surface = new CutSurface(site, design, from, direction, levels);
  const pointAt = (atFt: number) => surface.pointAt(atFt);
  const groundAt = (atFt: number) => surface.groundAt(atFt);
  const designAt = (atFt: number) => surface.designAt(atFt, surface.groundAt(atFt));

  return {
    from: roundPoint(from),
    to: roundPoint(to),
    stations: stations(lengthFt, surface),
    levels,
    piers: piersNear(scheme, pointAt, direction, lengthFt, groundAt, levels),
    walls: wallsAcross(scheme, from, direction, lengthFt, designAt, groundAt),
    wells: wellsNear(scheme, from, direction, lengthFt, levels),
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

/** Ground and finished ground along the line. */
class CutSurface {
  readonly #elevation: Raster;
  readonly #depth: Raster;
  readonly #from: Point;
  readonly #direction: Point;
  /** Levels that are dug or filled to: a raised house leaves the ground as it is. */
  readonly #levels: Section["levels"];

  constructor(
    site: Site,
    { kind, graded }: SchemeDesign,
    from: Point,
    direction: Point,
    levels: Section["levels"],
  ) {
    this.#elevation = site.terrain.elevation;
    this.#depth = graded.depth;
    this.#from = from;
    this.#direction = direction;
    this.#levels = kind === "pier-raised" ? [] : levels;
  }

  pointAt(atFt: number): Point {
    return [this.#from[0] + this.#direction[0] * atFt, this.#from[1] + this.#direction[1] * atFt];
  }

  groundAt(atFt: number): number {
    const east = this.#from[0] + this.#direction[0] * atFt;
    const north = this.#from[1] + this.#direction[1] * atFt;
    return heightAt(this.#elevation, east, north);
  }

  designAt(atFt: number, groundFt: number): number {
    let dugFt = Infinity;
    for (const { fromFt, toFt, elevationFt } of this.#levels)
      if (atFt >= fromFt && atFt <= toFt && elevationFt < dugFt) dugFt = elevationFt;
    if (dugFt < Infinity) return dugFt;
    const east = this.#from[0] + this.#direction[0] * atFt;
    const north = this.#from[1] + this.#direction[1] * atFt;
    const smooth = heightAt(this.#depth, east, north);
    return groundFt - (Number.isNaN(smooth) ? cellAt(this.#depth, east, north) : smooth);
  }
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

function stations(lengthFt: number, surface: CutSurface): Station[] {
  const count = Math.max(2, Math.ceil(lengthFt / STEP_FT) + 1);
  const ground = new Float64Array(count);
  const design = new Float64Array(count);
  const placeFt = (i: number) => (lengthFt * i) / (count - 1);
  for (let i = 0; i < count; i++) {
    ground[i] = surface.groundAt(placeFt(i));
    design[i] = surface.designAt(placeFt(i), ground[i]!);
  }
  const kept = keepIndices(
    count,
    (i, a, b) => Math.max(offStraight(ground, i, a, b), offStraight(design, i, a, b)),
    FLAT_FT,
  );
  const orNull = (value: number) => (Number.isNaN(value) ? null : to01(value));
  return kept.map((i) => ({
    atFt: to01(placeFt(i)),
    groundFt: orNull(ground[i]!),
    designFt: orNull(design[i]!),
  }));
}

/** How far a value lies from the straight line between two others; where values begin or end, what keeps both stations. */
function offStraight(values: Float64Array, i: number, a: number, b: number): number {
  const t = (i - a) / (b - a);
  const by = Math.abs(values[i]! - values[a]! - (values[b]! - values[a]!) * t);
  if (!Number.isNaN(by)) return by;
  return Number.isNaN(values[i]!) && Number.isNaN(values[a]!) && Number.isNaN(values[b]!)
    ? 0
    : edgeWeight(values, i, a, b);
}

/** Splits a stretch where values begin or end: strongest right beside the change. */
function edgeWeight(values: Float64Array, i: number, a: number, b: number): number {
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
