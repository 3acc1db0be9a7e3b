import { assert, test } from "vitest";
import { surveyReach } from "../../analysis/access/index.js";
import { cellCentre } from "../../analysis/geometry/grid.js";
import { planeSite } from "../support/sites.js";

// On a plane the way straight up from the street is as long as the zigzag at the limit: max(run, rise ÷ limit).
for (const { gradePct, limitPct } of [
  { gradePct: 10, limitPct: 15 },
  { gradePct: 30, limitPct: 15 },
  { gradePct: 40, limitPct: 12 },
])
  test(`on a ${gradePct} % plane a way up is as long as its rise asks at ${limitPct} %`, () => {
    const site = planeSite({
      gradePct,
      widthFt: 300,
      depthFt: 300,
      request: { access: { frontage: [0] }, rules: { driveway: { maxGradePct: limitPct } } },
    });
    const { distanceFt, lanes } = surveyReach(site);
    let tried = 0;
    for (let row = 0; row < lanes.grid.rows; row++)
      for (let col = 0; col < lanes.grid.cols; col++) {
        const [x, y] = cellCentre(lanes.grid, col, row);
        if (x < 60 || x > 240 || y < 80 || y > 280) continue;
        const expected = y * Math.max(1, gradePct / limitPct);
        const found = distanceFt.values[row * lanes.grid.cols + col]!;
        assert.closeTo(found, expected, 0.02 * expected, `${x}, ${y}`);
        tried++;
      }
    assert.isAbove(tried, 1_000);
  });

test("without a known street there is no entry and no distance", () => {
  const reach = surveyReach(planeSite({ gradePct: 10 }));
  assert.isNull(reach.entry);
  assert.equal(reach.entryOrigin, "unknown");
  assert.isTrue(reach.distanceFt.values.every((d) => Number.isNaN(d)));
});

test("the entry given is the entry used, at the street's given elevation", () => {
  const reach = surveyReach(
    planeSite({ gradePct: 10, request: { access: { point: [50, -4], streetElevationFt: 481.5 } } }),
  );
  assert.equal(reach.entryOrigin, "given");
  assert.equal(reach.entryElevFt, 481.5);
  assert.closeTo(reach.entry![0], 50, 1e-9);
  assert.closeTo(reach.entry![1], 0, 1e-9);
});

test("no lane has room closer to a side line than half its width", () => {
  const { distanceFt, lanes } = surveyReach(
    planeSite({ gradePct: 5, request: { access: { frontage: [0] } } }),
  );
  for (let row = 0; row < lanes.grid.rows; row++)
    for (let col = 0; col < lanes.grid.cols; col++) {
      const [x, y] = cellCentre(lanes.grid, col, row);
      const fromLines = Math.min(x, 208.71 - x, 208.71 - y);
      if (fromLines < 6 - lanes.grid.cellFt) assert.isNaN(distanceFt.values[row * lanes.grid.cols + col]!);
    }
});
