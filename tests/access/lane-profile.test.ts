import { assert, test } from "vitest";
import { fitProfile, largestRiseFt, type ProfileRules } from "../../analysis/access/lane-profile.js";

const rules = (count: number, limit: number, stepFt = 5): ProfileRules => ({
  limits: new Float64Array(count).fill(limit),
  stepFt,
  bendPerFt: 0.01,
});

function assertKept(z: Float64Array, { limits, stepFt, bendPerFt }: ProfileRules) {
  for (let i = 0; i + 1 < z.length; i++)
    assert.isAtMost(Math.abs(z[i + 1]! - z[i]!) / stepFt, limits[i]! + 1e-9, `grade of interval ${i}`);
  for (let i = 0; i + 2 < z.length; i++)
    assert.isAtMost(
      Math.abs(z[i + 2]! - 2 * z[i + 1]! + z[i]!) / stepFt ** 2,
      bendPerFt + 1e-9,
      `bend at station ${i + 1}`,
    );
}

test("a lane on ground milder than its limit lies on the ground", () => {
  const ground = Array.from({ length: 41 }, (_, i) => 100 + 0.08 * 5 * i);
  const z = fitProfile(ground, ground[0]!, ground[40]!, rules(40, 0.15))!;
  for (let i = 0; i < z.length; i++) assert.closeTo(z[i]!, ground[i]!, 0.01);
});

test("every grade and every change of grade keeps its limit on rough ground", () => {
  for (let seed = 1; seed <= 40; seed++) {
    const ground = Array.from(
      { length: 61 },
      (_, i) => 100 + 6 * Math.sin(i * 0.13 * seed) + 2 * Math.sin(i * 0.9 + seed) + 0.05 * seed * i * 0.1,
    );
    const r = rules(60, 0.15);
    for (let i = 0; i < 4; i++) r.limits[i] = 0.08;
    for (let i = 56; i < 60; i++) r.limits[i] = 0.05;
    const z = fitProfile(ground, ground[0]!, ground[60]!, r);
    assert.isNotNull(z);
    assertKept(z!, r);
    assert.equal(z![0], ground[0]);
    assert.equal(z![60], ground[60]);
  }
});

test("the largest rise is that of a lane bent as fast as allowed: two limits, one transition", () => {
  // 100 ft at 5 % then 100 ft at 15 %: the grade may change by 5 % every 5 ft, so one interval lies at 10 % between them
  const r = rules(40, 0.15);
  for (let i = 0; i < 20; i++) r.limits[i] = 0.05;
  assert.closeTo(largestRiseFt(r), 20 * 5 * 0.05 + 5 * 0.1 + 19 * 5 * 0.15, 1e-9);
  const most = largestRiseFt(r);
  const flat = new Array(41).fill(0);
  assertKept(fitProfile(flat, 0, most - 1e-9, r)!, r);
  assert.isNull(fitProfile(flat, 0, most + 1e-6, r));
});

test("no profile on a lattice lies nearer to the ground", () => {
  // brute force: all profiles of 8 intervals whose grades are multiples of 2.5 %
  const r = rules(8, 0.1, 10);
  const grades = [-0.1, -0.075, -0.05, -0.025, 0, 0.025, 0.05, 0.075, 0.1];
  for (const seed of [1, 2, 3, 4]) {
    const ground = Array.from({ length: 9 }, (_, i) => 2 * Math.sin(1.7 * seed + 1.1 * i) + 0.3 * i);
    ground[0] = 0;
    ground[8] = 2;
    let best = Infinity;
    const walk = (i: number, z: number, last: number, sum: number) => {
      if (sum >= best) return;
      if (i === 8) {
        if (Math.abs(z - 2) < 1e-9) best = sum;
        return;
      }
      for (const grade of grades) {
        if (i > 0 && Math.abs(grade - last) > 0.1 + 1e-12) continue;
        const next = z + 10 * grade;
        walk(i + 1, next, grade, sum + (i === 7 ? 0 : (next - ground[i + 1]!) ** 2));
      }
    };
    walk(0, 0, 0, 0);
    const z = fitProfile(ground, 0, 2, r)!;
    let ours = 0;
    for (let i = 1; i < 8; i++) ours += (z[i]! - ground[i]!) ** 2;
    assert.isAtMost(ours, best + 1e-3);
  }
});
