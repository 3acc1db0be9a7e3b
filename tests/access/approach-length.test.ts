import { assert, test } from "vitest";
import { ApproachLength, layDriveway, shortestRunFt, surveyReach } from "../../analysis/access/index.js";
import type { Site } from "../../analysis/lot/index.js";
import { planeSite } from "../support/sites.js";
import { houseAt } from "./targets.js";

const request = { access: { frontage: [0] } };

/** Of a door that looks along a unit vector. */
function lookFt(
  site: Site,
  at: readonly [number, number],
  [ahead, up]: readonly [number, number],
  floorFt: number,
): number {
  return new ApproachLength(surveyReach(site), site.request).ft({ x: at[0], y: at[1], ahead, up }, floorFt);
}

test("a door that looks at a level street is as far from it as the crow flies", () => {
  const site = planeSite({ gradePct: 0, request });
  assert.closeTo(lookFt(site, [105, 90], [0, -1], 500), 90, 1e-9);
});

test("a door that looks along the street takes a quarter turn of 26 ft radius", () => {
  const site = planeSite({ gradePct: 0, request });
  // entries lie 8 ft apart: the straight part is right to half of that
  assert.closeTo(lookFt(site, [60, 90], [1, 0], 500), 64 + (Math.PI * 26) / 2, 4);
});

test("a climb the straight way cannot make is longer by what the grade asks and a share of a half turn", () => {
  const site = planeSite({ gradePct: 0, request });
  // by hand: throat 20·8 % and apron 20·5 % climb 2.6 ft, transitions lose (7² + 10²) ÷ 2 % = 0.745 ft, the rest at 15 %
  const run = 40 + (15 - 2.6 + 0.745) / 0.15;
  assert.closeTo(shortestRunFt(15, 15), run, 1e-9);
  // the nearest entry lies within 4 ft of straight ahead
  const expected = run + (run / 90 - 1) * Math.PI * 26;
  assert.closeTo(lookFt(site, [105, 90], [0, -1], 515), expected, 1);
});

for (const { gradePct, faces } of [
  { gradePct: 5, faces: "south" },
  { gradePct: 15, faces: "south" },
  { gradePct: 15, faces: "east" },
  { gradePct: 20, faces: "east" },
  { gradePct: 25, faces: "west" },
] as const)
  test(`the look and the lane laid agree within a third on a ${gradePct} % plane, door to the ${faces}`, () => {
    const site = planeSite({ gradePct, request });
    const floorFt = 500 + (gradePct / 100) * (120 - 208.71 / 2);
    const access = layDriveway(site, surveyReach(site), houseAt({ at: [105, 120], floorFt, faces }));
    if (!access.reachable) assert.fail(access.because);
    const outward = ({ south: [0, -1], east: [1, 0], west: [-1, 0] } as const)[faces];
    const look = lookFt(site, [105, 120], outward, floorFt);
    assert.isAbove(look / access.driveway.lengthFt, 2 / 3);
    assert.isBelow(look / access.driveway.lengthFt, 4 / 3);
  });
