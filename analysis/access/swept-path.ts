/** The ground a vehicle sweeps when its front axle follows the centre line of a lane. Method: docs/methods/access.md */
import { type LanePath, lengthFt, stationsOf } from "./lane-path.js";

export interface Vehicle {
  readonly wheelbaseFt: number;
  /** Over the tyres. */
  readonly widthFt: number;
  /** Most its front wheels turn from straight ahead, middle of the axle. */
  readonly steeringDeg: number;
}

export interface Sweep {
  /** From the outer front tyre to the inner rear one where that is most, and how far along the lane that is. */
  readonly widestFt: number;
  readonly widestAtFt: number;
  /** Most the front wheels must turn, and where. */
  readonly steeringDeg: number;
  readonly steeringAtFt: number;
  /** Where they first turn more than the vehicle's do; null when they never must. */
  readonly failsAtFt: number | null;
}

const STEP_FT = 1;
/** Stations behind the rear axle's own among which the nearest to it is looked for. */
const LOOK_BACK = 8;

/** A lane's centre line every foot or less from the street, for vehicles to follow. */
export class CentreLine {
  readonly count: number;
  readonly stepFt: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly heading: Float64Array;

  constructor(path: LanePath) {
    const total = lengthFt(path);
    const steps = Math.max(1, Math.ceil(total / STEP_FT));
    const stations = stationsOf(path, steps);
    this.count = stations.length;
    this.stepFt = total / steps;
    this.x = Float64Array.from(stations, ({ at }) => at[0]);
    this.y = Float64Array.from(stations, ({ at }) => at[1]);
    this.heading = Float64Array.from(stations, ({ heading }) => heading);
  }
}

/**
 * Follows a vehicle up a lane: the middle of its front axle on the centre line, the middle of its rear axle drawn after
 * it (a tractrix: it moves along the body only). On a long curve the rear comes to rest R − √(R² − L²) inside, the
 * wheels turned by asin(L ÷ R): textbook off-tracking. It comes in from the street straight.
 */
export function sweepAlong(line: CentreLine, { wheelbaseFt, widthFt, steeringDeg }: Vehicle): Sweep {
  const { x, y, heading, stepFt, count } = line;
  const mostRad = (steeringDeg * Math.PI) / 180;
  const behind = Math.ceil(wheelbaseFt / stepFt);
  let body = heading[0]!;
  let inside = 0;
  let widestAtFt = 0;
  let most = 0;
  let steeringAtFt = 0;
  let failsAtFt: number | null = null;
  for (let i = 0; i < count; i++) {
    const dx = i > 0 ? x[i]! - x[i - 1]! : 0;
    const dy = i > 0 ? y[i]! - y[i - 1]! : 0;
    const chordFt = Math.sqrt(dx * dx + dy * dy);
    if (chordFt > 0) {
      // the tractrix of a straight step, exactly: tan(φ/2) shrinks by e^(−step ÷ wheelbase)
      const chord = Math.atan2(dy, dx);
      const lag = Math.tan(angleBetween(body, chord) / 2) * Math.exp(-chordFt / wheelbaseFt);
      body = chord + 2 * Math.atan(lag);
    }
    const turned = Math.abs(angleBetween(heading[i]!, body));
    if (turned > most) {
      most = turned;
      steeringAtFt = i * stepFt;
    }
    if (failsAtFt === null && turned > mostRad) failsAtFt = i * stepFt;
    const rearEast = x[i]! - wheelbaseFt * Math.cos(body);
    const rearNorth = y[i]! - wheelbaseFt * Math.sin(body);
    const near = nearestTo(
      line,
      rearEast,
      rearNorth,
      i - behind - LOOK_BACK,
      Math.min(i, i - behind + LOOK_BACK),
    );
    // before the rear has come onto the lane it is in the street
    if (near <= 0) continue;
    const ahead = heading[near]!;
    const off = Math.abs((rearNorth - y[near]!) * Math.cos(ahead) - (rearEast - x[near]!) * Math.sin(ahead));
    if (off <= inside) continue;
    inside = off;
    widestAtFt = near * stepFt;
  }
  return {
    widestFt: widthFt + inside,
    widestAtFt,
    steeringDeg: (most * 180) / Math.PI,
    steeringAtFt,
    failsAtFt,
  };
}

/** Which of the stations between two is nearest to a place; −1 where there is none. */
function nearestTo({ x, y }: CentreLine, east: number, north: number, from: number, to: number): number {
  let nearest = -1;
  let least2 = Infinity;
  for (let k = Math.max(0, from); k <= to; k++) {
    const dx = x[k]! - east;
    const dy = y[k]! - north;
    const away2 = dx * dx + dy * dy;
    if (away2 >= least2) continue;
    least2 = away2;
    nearest = k;
  }
  return nearest;
}

/** In (−π, π]. */
function angleBetween(a: number, b: number): number {
  const turn = (a - b) % (2 * Math.PI);
  return turn > Math.PI ? turn - 2 * Math.PI : turn <= -Math.PI ? turn + 2 * Math.PI : turn;
}
