/** Room to turn a car before the garage. Method: docs/methods/access.md */
import { type Point, type Ring, ringContains } from "../geometry/plane.js";
import type { LaneGround } from "./access.js";
import type { DriveRules } from "./drive-rules.js";
import { GroundLook } from "./ground-look.js";
import type { Station } from "./lane-path.js";

/** The leg a car backs into: along the lane, and out from its middle line. Common practice, no source. */
const LEG_WIDTH_FT = 24;
const LEG_DEPTH_FT = 26;
/** From the door to the middle of the leg: the car's length before it, and no farther than a driver likes to back. Common practice, no source. */
const NEAREST_TO_DOOR_FT = 16;
const FARTHEST_FROM_DOOR_FT = 80;
const PLACES_APART_FT = 4;
/** A leg whose edge needs more than this held up is no cheap turnaround. Judgement. */
const HIGHEST_EDGE_FT = 8;
const SAMPLES = 5;
const LOOKS = 20;
/** Earth worth moving to spare a driver a foot of backing. Judgement. */
const PER_FT_BACKED_FT3 = 10;
const BESIDE_HOUSE_FT = 1;

export interface Turnaround {
  readonly ring: Ring;
  readonly atStationFt: number;
  readonly levelFt: number;
  readonly cutFt3: number;
  readonly fillFt3: number;
}

/** The leg off the lane near the garage that moves least earth, on the lot; null where none has room. */
export function findTurnaround(
  stations: readonly Station[],
  gradeFt: ArrayLike<number>,
  ground: LaneGround,
  { halfBedFt }: DriveRules,
  lot: Ring,
): Turnaround | null {
  const look = new GroundLook(ground);
  const total = stations.at(-1)!.stationFt;
  let best: Turnaround | null = null;
  let least = Infinity;
  let last = Infinity;
  for (let i = stations.length - 1; i > 0; i--) {
    const station = stations[i]!;
    const back = total - station.stationFt;
    if (
      back < NEAREST_TO_DOOR_FT ||
      back > FARTHEST_FROM_DOOR_FT ||
      last - station.stationFt < PLACES_APART_FT
    )
      continue;
    last = station.stationFt;
    for (const side of [1, -1] as const) {
      const leg = tryLeg(station, side, gradeFt[i]!, halfBedFt, look);
      if (!leg || !liesOn(leg.ring, lot)) continue;
      const cost = leg.cutFt3 + leg.fillFt3 + PER_FT_BACKED_FT3 * back;
      if (cost >= least) continue;
      least = cost;
      best = leg;
    }
  }
  return best;
}

/** All of a leg on the lot, its sides looked at every foot or so. */
function liesOn(ring: Ring, lot: Ring): boolean {
  return ring.every(([x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length]!;
    return Array.from(
      { length: LOOKS },
      (_, k): Point => [x + (k / LOOKS) * (nx - x), y + (k / LOOKS) * (ny - y)],
    ).every((at) => ringContains(lot, at));
  });
}

function tryLeg(
  { at: [x, y], heading, stationFt }: Station,
  side: 1 | -1,
  levelFt: number,
  halfBedFt: number,
  look: GroundLook,
): Turnaround | null {
  const ahead: Point = [Math.cos(heading), Math.sin(heading)];
  const out: Point = [-side * ahead[1], side * ahead[0]];
  const place = (along: number, off: number): Point => [
    x + along * ahead[0] + off * out[0],
    y + along * ahead[1] + off * out[1],
  ];
  const cellFt2 = (LEG_WIDTH_FT * (LEG_DEPTH_FT - halfBedFt)) / SAMPLES ** 2;
  let cutFt3 = 0;
  let fillFt3 = 0;
  for (let i = 0; i < SAMPLES; i++)
    for (let k = 0; k < SAMPLES; k++) {
      const at = place(
        ((i + 0.5) / SAMPLES - 0.5) * LEG_WIDTH_FT,
        halfBedFt + ((k + 0.5) / SAMPLES) * (LEG_DEPTH_FT - halfBedFt),
      );
      if (!look.at(at[0], at[1]) || look.clearanceFt < BESIDE_HOUSE_FT) return null;
      const over = look.elevFt - levelFt;
      if (Math.abs(over) > HIGHEST_EDGE_FT) return null;
      if (over > 0) cutFt3 += over * cellFt2;
      else fillFt3 -= over * cellFt2;
    }
  const h = LEG_WIDTH_FT / 2;
  const ring = [place(-h, 0), place(h, 0), place(h, LEG_DEPTH_FT), place(-h, LEG_DEPTH_FT)];
  return { ring: side > 0 ? ring : [...ring].reverse(), atStationFt: stationFt, levelFt, cutFt3, fillFt3 };
}
