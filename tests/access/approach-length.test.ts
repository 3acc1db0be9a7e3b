import { assert, test } from "vitest";
import { approachLengthFt, layDriveway, shortestRunFt, surveyReach } from "../../analysis/access/index.js";
import { planeSite } from "../support/sites.js";
import { houseAt } from "./targets.js";

const request = { access: { frontage: [0] } };

test("a door that looks at a level street is as far from it as the crow flies", () => {
  const site = planeSite({ gradePct: 0, request });
  const look = { at: [105, 90] as const, outward: [0, -1] as const, floorFt: 500 };
  assert.closeTo(approachLengthFt(surveyReach(site), look, site.request), 90, 1e-9);
});

test("a door that looks along the street takes a quarter turn of 26 ft radius", () => {
  const site = planeSite({ gradePct: 0, request });
  // entries lie 8 ft apart: the straight part is right to half of that
  const look = { at: [60, 90] as const, outward: [1, 0] as const, floorFt: 500 };
  assert.closeTo(approachLengthFt(surveyReach(site), look, site.request), 64 + (Math.PI * 26) / 2, 4);
});

test("a climb the straight way cannot make is longer by what the grade asks and a share of a half turn", () => {
  const site = planeSite({ gradePct: 0, request });
  const look = { at: [105, 90] as const, outward: [0, -1] as const, floorFt: 515 };
  // by hand: throat 20·8 % and apron 20·5 % climb 2.6 ft, transitions lose (7² + 10²) ÷ 2 % = 0.745 ft, the rest at 15 %
  const run = 40 + (15 - 2.6 + 0.745) / 0.15;
  assert.closeTo(shortestRunFt(15, 15), run, 1e-9);
  // the nearest entry lies within 4 ft of straight ahead
  const expected = run + (run / 90 - 1) * Math.PI * 26;
  assert.closeTo(approachLengthFt(surveyReach(site), look, site.request), expected, 1);
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
    const reach = surveyReach(site);
    const floorFt = 500 + (gradePct / 100) * (120 - 208.71 / 2);
    const access = layDriveway(site, reach, houseAt({ at: [105, 120], floorFt, faces }));
    if (!access.reachable) assert.fail(access.because);
    const outward = ({ south: [0, -1], east: [1, 0], west: [-1, 0] } as const)[faces];
    const look = approachLengthFt(reach, { at: [105, 120], outward, floorFt }, site.request);
    assert.isAbove(look / access.driveway.lengthFt, 2 / 3);
    assert.isBelow(look / access.driveway.lengthFt, 4 / 3);
  });
