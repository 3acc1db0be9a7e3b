/** The hole for a basement: pit with working space, temporary banks on the natural ground, and what comes back. */
import type { MultiPolygon, Polygon, Ring } from "../geometry/plane.js";
import { signedAreaFt2 } from "../geometry/plane.js";
import type { Tin } from "../terrain/terrain.js";
import type { CutFill } from "./earthwork.js";
import { type Footprint, prepareFootprint } from "./footprint.js";
import { gradeSurface } from "./grade-surface.js";
import { gradedOutline } from "./graded-ground.js";
import { groundHeights, retainingWall } from "./walls.js";

export interface DigRequest {
  /** Outside faces of the basement walls. */
  readonly ring: Ring;
  /** The ground inside them, where it is prepared already. */
  readonly under?: Footprint;
  /** Bottom of the dig: under slab, gravel and barrier. */
  readonly subgradeFt: number;
  readonly workingSpaceFt: number;
  /** Run per unit of rise of the temporary bank; 0 for a vertical, braced side. */
  readonly temporaryBatter: number;
  readonly limit?: Ring | null;
  /** How the temporary banks meet: rounded when not said; sharp makes the prismoid of the textbooks. */
  readonly corners?: "round" | "mitre";
}

export interface Dig {
  /** Ground removed, bank volume. */
  readonly digFt3: number;
  /** Ground that stood where the basement will: it never comes back. */
  readonly buildingFt3: number;
  /** Space between walls and banks, filled again: compacted volume. */
  readonly backfillFt3: number;
  /** Height of the tallest temporary bank above the bottom of the dig. */
  readonly heightFt: number;
  /** How far the dig reaches from the wall. */
  readonly reachFt: number;
  readonly outline: Polygon;
  readonly leavesLimit: boolean;
  readonly leavesSurvey: boolean;
  /** Face to brace if the sides were cut vertically at the working space, where deeper than the depth that needs no protection. */
  readonly shoringFt2: number;
  readonly cut: CutFill;
}

/** Depth from which a protective system is asked for: 29 CFR 1926.652(a)(1). */
export const PROTECTED_FROM_FT = 5;
/** Depth above which an engineer designs the protection: 29 CFR 1926 Subpart P. */
export const ENGINEER_ABOVE_FT = 20;

/**
 * Dig, backfill, height and reach of a basement pit on natural ground. Ground below the bottom of the dig is left
 * alone: the downhill side of a daylight basement is open.
 */
export function digBasement(tin: Tin, request: DigRequest): Dig {
  const {
    ring,
    under,
    subgradeFt,
    workingSpaceFt,
    temporaryBatter,
    limit = null,
    corners = "round",
  } = request;
  const pit = squareOffset(ring, workingSpaceFt);
  const surface = gradeSurface(tin, {
    pads: [{ ring: pit, levelFt: subgradeFt }],
    cutBatter: temporaryBatter,
    fillBatter: 0,
    limit,
    corners,
    only: "cut",
  });
  const { cutFt3: buildingFt3 } = (under ?? prepareFootprint(tin, ring)).evaluate(subgradeFt);
  const edge = [...pit, pit[0]!];
  const shoring = retainingWall({
    kind: "basement",
    where: "uphill",
    line: edge,
    heightsFt: groundHeights(tin, edge, subgradeFt).map((h) => (h > PROTECTED_FROM_FT ? h : 0)),
    surcharge: false,
  });
  return {
    digFt3: surface.cutFt3,
    buildingFt3,
    backfillFt3: Math.max(0, surface.cutFt3 - buildingFt3),
    heightFt: temporaryBatter > 0 ? Math.max(surface.cutBankFt, surface.maxCutFt) : surface.maxCutFt,
    reachFt: workingSpaceFt + surface.cutReachFt,
    outline: largest(gradedOutline(surface, "cut")) ?? [pit],
    leavesLimit: surface.leavesLimit,
    leavesSurvey: surface.leavesSurvey,
    shoringFt2: shoring.faceFt2,
    cut: surface,
  };
}

/** A ring moved outward with sharp corners, as a pit is staked; counter-clockwise. */
function squareOffset(walls: Ring, distanceFt: number): Ring {
  const ring = signedAreaFt2(walls) > 0 ? walls : [...walls].reverse();
  const n = ring.length;
  return ring.map(([x, y], i) => {
    const [ax, ay] = ring[(i + n - 1) % n]!;
    const [bx, by] = ring[(i + 1) % n]!;
    const inLength = Math.hypot(x - ax, y - ay);
    const outLength = Math.hypot(bx - x, by - y);
    const [ux, uy] = [(y - ay) / inLength, (ax - x) / inLength];
    const [vx, vy] = [(by - y) / outLength, (x - bx) / outLength];
    const scale = distanceFt / (1 + ux * vx + uy * vy);
    return [x + scale * (ux + vx), y + scale * (uy + vy)];
  });
}

function largest(polygons: MultiPolygon): Polygon | undefined {
  return [...polygons].sort((p, q) => signedAreaFt2(q[0]!) - signedAreaFt2(p[0]!))[0];
}
