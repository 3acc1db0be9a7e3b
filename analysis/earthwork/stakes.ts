/** Points a crew would flag to see the design on the ground: preliminary, never for construction. */
import type { MultiPolygon, Point, Ring } from "../geometry/plane.js";
import { elevationAt } from "../terrain/index.js";
import type { Tin } from "../terrain/terrain.js";
import type { GradedGround } from "./earthwork.js";

export interface Stake {
  /** "main 1", "cut 12". */
  readonly name: string;
  readonly kind: "corner" | "daylight";
  readonly level: string;
  readonly at: Point;
  /** To 0.1 ft; null off the survey. */
  readonly existingFt: number | null;
  readonly proposedFt: number;
  readonly cutFt: number;
  readonly fillFt: number;
}

/** The parts of a scheme that stakes are taken from. */
export interface StakedDesign {
  readonly levels: readonly { readonly name: string; readonly ring: Ring; readonly elevationFt: number }[];
  readonly graded: Pick<GradedGround, "cut" | "fill">;
}

/** Stakes along daylight lines stand about this far apart: common practice, no source. */
const DAYLIGHT_SPACING_FT = 10;
/** Daylight lines this close to a pad's edge are the edge itself. */
const ON_EDGE_FT = 0.5;

/** Corner stakes of every level, then daylight stakes where cut and fill meet the ground, all to 0.1 ft. */
export function listStakes(
  { terrain: { tin } }: { readonly terrain: { readonly tin: Tin } },
  design: StakedDesign,
): Stake[] {
  const corners = design.levels.flatMap(({ name, ring, elevationFt }) =>
    ring.map((at, i) => stake(tin, `${name} ${i + 1}`, "corner", name, at, elevationFt)),
  );
  return [
    ...corners,
    ...daylight(tin, "cut", design.graded.cut, design),
    ...daylight(tin, "fill", design.graded.fill, design),
  ];
}

function daylight(
  tin: Tin,
  level: "cut" | "fill",
  polygons: MultiPolygon,
  { levels }: StakedDesign,
): Stake[] {
  const stakes: Stake[] = [];
  for (const ring of polygons.flat())
    for (const at of spaced(ring)) {
      if (levels.some((pad) => nearEdge(pad.ring, at))) continue;
      const ground = elevationAt(tin, at[0], at[1]);
      if (Number.isNaN(ground)) continue;
      stakes.push(stake(tin, `${level} ${stakes.length + 1}`, "daylight", level, at, ground));
    }
  return stakes;
}

function stake(
  tin: Tin,
  name: string,
  kind: Stake["kind"],
  level: string,
  at: Point,
  proposed: number,
): Stake {
  const existing = elevationAt(tin, at[0], at[1]);
  const proposedFt = tenth(proposed);
  const existingFt = Number.isNaN(existing) ? null : tenth(existing);
  const cut = existingFt === null ? 0 : existingFt - proposedFt;
  return {
    name,
    kind,
    level,
    at: [tenth(at[0]), tenth(at[1])],
    existingFt,
    proposedFt,
    cutFt: tenth(Math.max(0, cut)),
    fillFt: tenth(Math.max(0, -cut)),
  };
}

function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}

function spaced(ring: Ring): Point[] {
  const points: Point[] = [];
  let left = 0;
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const length = Math.hypot(bx - ax, by - ay);
    for (let at = left; at < length; at += DAYLIGHT_SPACING_FT) {
      const t = at / length;
      points.push([ax + t * (bx - ax), ay + t * (by - ay)]);
      left = at + DAYLIGHT_SPACING_FT;
    }
    left -= length;
  }
  return points;
}

function nearEdge(ring: Ring, [x, y]: Point): boolean {
  return ring.some(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const length2 = (bx - ax) ** 2 + (by - ay) ** 2;
    const t =
      length2 === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length2));
    return Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)) < ON_EDGE_FT;
  });
}
