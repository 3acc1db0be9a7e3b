import { assert, test } from "vitest";
import { routeLotWater } from "../../analysis/drainage/index.js";
import { formulaSite } from "../support/sites.js";

/** A plane falling south at 5 % with a round pit 30 ft across and 4 ft deep; shots every 3 ft show it. */
function pitAt(east: number, north: number) {
  const ground = (x: number, y: number) => {
    const r = Math.hypot(x - east, y - north);
    return 500 + 0.05 * y - (r < 15 ? 4 * (1 - (r / 15) ** 2) : 0);
  };
  return formulaSite(ground, { widthFt: 150, depthFt: 150, spacingFt: 3, beyondFt: 60 });
}

test("a pit on the lot is listed as a hollow, where it is deepest", () => {
  const { depressions } = routeLotWater(pitAt(75, 75));
  assert.equal(depressions.length, 1);
  const [pit] = depressions;
  assert.closeTo(pit!.at[0], 75, 6);
  assert.closeTo(pit!.at[1], 75, 6);
  // its rim is lowest on the south side, 15 ft down the 5 % plane: at most 4 − 0.75 ft of water at the middle, a little more south of it
  assert.closeTo(pit!.depthFt, 3.3, 0.35);
  assert.isBelow(pit!.areaFt2, Math.PI * 15 ** 2);
  assert.isAbove(pit!.areaFt2, 0.5 * Math.PI * 15 ** 2);
});

test("a pit beside the lot is not the lot's", () => {
  assert.equal(routeLotWater(pitAt(185, 75)).depressions.length, 0);
});
