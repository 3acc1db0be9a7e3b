import { expect, test } from "vitest";
import { formulaSite } from "../support/sites.js";
import { schemesOf } from "./support.js";

// Common practice, no source: fill deeper than 2 ft under part of a house asks for piers under all of it, and nobody balances cut and fill to the yard on gentle ground and puts the house on piers for it.
test("a level house on gentle ground keeps fill under it shallower than what asks for piers", () => {
  for (const slope of [0.06, 0.1]) {
    const site = formulaSite((_, y) => 500 + slope * y, {
      widthFt: 200,
      depthFt: 200,
      spacingFt: 20,
      beyondFt: 40,
      request: { brief: { floorAreaFt2: 2400, storeys: 2, garageCars: 2 } },
    });
    const [level, stepped] = schemesOf(site);
    expect(level!.straddle.maxFillUnderHouseFt).toBeLessThanOrEqual(2);
    expect(stepped!.straddle.maxFillUnderHouseFt).toBeLessThanOrEqual(2);
  }
});
