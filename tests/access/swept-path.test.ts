import { assert, describe, test } from "vitest";
import type { LanePath } from "../../analysis/access/lane-path.js";
import { CentreLine, sweepAlong } from "../../analysis/access/swept-path.js";

const SU = { wheelbaseFt: 20, widthFt: 8, steeringDeg: 31.8 };
const path = (...pieces: LanePath["pieces"]) =>
  new CentreLine({ start: { x: 0, y: 0, heading: 0.3 }, pieces });

test("on a straight lane a truck sweeps its own width and steers nowhere", () => {
  const sweep = sweepAlong(path({ turn: 0, lengthFt: 120, radiusFt: Infinity }), SU);
  assert.closeTo(sweep.widestFt, 8, 1e-9);
  assert.closeTo(sweep.steeringDeg, 0, 1e-9);
  assert.isNull(sweep.failsAtFt);
});

// Textbook off-tracking: at rest on a circle the rear axle runs R − √(R² − L²) inside, the wheels turned by asin(L ÷ R).
for (const { radiusFt, turn } of [
  { radiusFt: 60, turn: 1 },
  { radiusFt: 60, turn: -1 },
  { radiusFt: 100, turn: 1 },
] as const)
  test(`on a long curve of ${radiusFt} ft, turning ${turn}, the sweep comes to rest at the textbook's off-tracking`, () => {
    const sweep = sweepAlong(path({ turn, lengthFt: 2 * Math.PI * radiusFt, radiusFt }), SU);
    assert.closeTo(sweep.widestFt, 8 + radiusFt - Math.sqrt(radiusFt ** 2 - 400), 0.02);
    assert.closeTo(sweep.steeringDeg, (180 / Math.PI) * Math.asin(20 / radiusFt), 0.3);
  });

describe("AASHTO's single-unit truck (centreline turning radius 38 ft at 31.8°, from memory)", () => {
  test("goes round 40 ft for as long as it likes", () => {
    assert.isNull(sweepAlong(path({ turn: 1, lengthFt: 200, radiusFt: 40 }), SU).failsAtFt);
  });

  test("fails on a half turn of 26 ft, but not on the first feet of it", () => {
    const lead = { turn: 0, lengthFt: 50, radiusFt: Infinity } as const;
    const half = sweepAlong(path(lead, { turn: 1, lengthFt: Math.PI * 26, radiusFt: 26 }), SU);
    assert.isAbove(half.failsAtFt!, 55);
    assert.isBelow(half.failsAtFt!, 50 + Math.PI * 26);
    assert.isNull(sweepAlong(path(lead, { turn: 1, lengthFt: 12, radiusFt: 26 }, lead), SU).failsAtFt);
  });
});

test("the rear follows the closed form of a tractrix when the front sets off on a circle", () => {
  // body angle φ to the tangent: dφ/ds = 1/R − sin φ / L; solved here by a fine fourth-order Runge-Kutta
  const [R, L, arc] = [50, 20, 40];
  let phi = 0;
  const slope = (v: number) => 1 / R - Math.sin(v) / L;
  const ds = arc / 4_000;
  for (let i = 0; i < 4_000; i++) {
    const k1 = slope(phi);
    const k2 = slope(phi + (ds / 2) * k1);
    const k3 = slope(phi + (ds / 2) * k2);
    const k4 = slope(phi + ds * k3);
    phi += (ds / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
  }
  const sweep = sweepAlong(path({ turn: 1, lengthFt: arc, radiusFt: R }), SU);
  assert.closeTo(sweep.steeringDeg, (180 / Math.PI) * phi, 0.5);
});
