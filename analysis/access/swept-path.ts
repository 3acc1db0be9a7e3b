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

/**
 * Follows a vehicle up a lane: the middle of its front axle on the centre line, the middle of its rear axle drawn after
 * it (a tractrix: it moves along the body only). On a long curve the rear comes to rest R − √(R² − L²) inside, the
 * wheels turned by asin(L ÷ R): textbook off-tracking. It comes in from the street straight.
 */
export function sweepAlong(path: LanePath, { wheelbaseFt, widthFt, steeringDeg }: Vehicle): Sweep {
  const total = lengthFt(path);
  const count = Math.max(1, Math.ceil(total / STEP_FT));
  const stations = stationsOf(path, count);
  const first = stations[0]!;
  let [x0, y0] = first.at;
  let body = first.heading;
  let inside = 0;
  let widestAtFt = 0;
  let most = 0;
  let steeringAtFt = 0;
  let failsAtFt: number | null = null;
  stations.forEach(({ at: [x, y], heading, stationFt }, i) => {
    const chordFt = Math.hypot(x - x0, y - y0);
    if (chordFt > 0) {
      // the tractrix of a straight step, exactly: tan(φ/2) shrinks by e^(−step ÷ wheelbase)
      const chord = Math.atan2(y - y0, x - x0);
      const lag = Math.tan(angleBetween(body, chord) / 2) * Math.exp(-chordFt / wheelbaseFt);
      body = chord + 2 * Math.atan(lag);
    }
    [x0, y0] = [x, y];
    const rearEast = x - wheelbaseFt * Math.cos(body);
    const rearNorth = y - wheelbaseFt * Math.sin(body);
    const turned = Math.abs(angleBetween(heading, body));
    if (turned > most) {
      most = turned;
      steeringAtFt = stationFt;
    }
    if (failsAtFt === null && turned > (steeringDeg * Math.PI) / 180) failsAtFt = stationFt;
    const behind = Math.ceil(wheelbaseFt / (total / count));
    let nearest = -1;
    let least = Infinity;
    for (let k = Math.max(0, i - behind - LOOK_BACK); k <= Math.min(i, i - behind + LOOK_BACK); k++) {
      const ft = Math.hypot(stations[k]!.at[0] - rearEast, stations[k]!.at[1] - rearNorth);
      if (ft >= least) continue;
      least = ft;
      nearest = k;
    }
    // before the rear has come onto the lane it is in the street
    if (nearest <= 0) return;
    const near = stations[nearest]!;
    const off = Math.abs(
      (rearNorth - near.at[1]) * Math.cos(near.heading) - (rearEast - near.at[0]) * Math.sin(near.heading),
    );
    if (off <= inside) return;
    inside = off;
    widestAtFt = near.stationFt;
  });
  return {
    widestFt: widthFt + inside,
    widestAtFt,
    steeringDeg: (most * 180) / Math.PI,
    steeringAtFt,
    failsAtFt,
  };
}

/** In (−π, π]. */
function angleBetween(a: number, b: number): number {
  const turn = (a - b) % (2 * Math.PI);
  return turn > Math.PI ? turn - 2 * Math.PI : turn <= -Math.PI ? turn + 2 * Math.PI : turn;
}
