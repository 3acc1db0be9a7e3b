/** What every trial on one lot is judged by, made once. */
import type { Reach } from "../access/access.js";
import type { Site } from "../lot/site.js";
import { DriveCost } from "./drive-cost.js";
import { GroundGrid } from "./ground-grid.js";
import { Limits } from "./limits.js";
import type { Judge } from "./model.js";
import { type Prices, sitePrices } from "./site-cost.js";
import { Sketch } from "./sketch.js";

/** Natural ground steeper than this gets a key and benches under fill (IBC Appendix J107.3, from memory). */
export const KEY_SLOPE_PCT = 20;

export function judgeFor(site: Site, reach: Reach, prices: Prices): Judge {
  const { request } = site;
  const ground = new GroundGrid(site);
  const made = sitePrices(prices, request);
  return {
    request,
    ground,
    prices: made,
    sketch: new Sketch(ground, {
      cutBatter: request.rules.cutBatter,
      fillBatter: request.rules.fillBatter,
      keySlope: KEY_SLOPE_PCT / 100,
      fillMaxSlope: request.rules.fillMaxSlopePct / 100,
      temporaryBatter: request.rules.temporaryBatter,
      workingSpaceFt: request.rules.workingSpaceFt,
    }),
    limits: new Limits(),
    drive: new DriveCost(reach, ground, made, request),
  };
}
