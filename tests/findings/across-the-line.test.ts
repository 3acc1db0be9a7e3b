/** What would cross the lot line: a bank that stays, or the hole of a basement while it is open. */
import { assert, test } from "vitest";
import { RULES } from "../../analysis/findings/collect-findings.js";
import type { SchemeFacts } from "../../analysis/findings/facts.js";
import type { Site } from "../../analysis/lot/site.js";
import { daylightParts, steepSite } from "../cost/invented-drafts.js";

/** Codes of the two rules that are met when the bank and the hole lie as said. */
function met({ bank, hole }: { readonly bank: boolean; readonly hole: boolean }): string[] {
  const { design } = daylightParts();
  const earthwork = {
    ...design.earthwork,
    temporaryCutFt: 8,
    leavesLot: bank || hole,
    temporaryLeavesLot: hole,
  };
  const problems = bank ? [{ code: "batter-leaves-lot", message: "" }] : [];
  const scheme = { design: { ...design, earthwork, problems, temporary: {} } } as unknown as SchemeFacts;
  const site: Site = steepSite();
  return RULES.flatMap((rule) =>
    "onScheme" in rule && ["ERT-04", "ERT-05"].includes(rule.code) && rule.onScheme(scheme, site)
      ? [rule.code]
      : [],
  );
}

test("each is blamed for its own crossing", () => {
  assert.deepEqual(met({ bank: false, hole: false }), []);
  assert.deepEqual(met({ bank: true, hole: false }), ["ERT-04"]);
  assert.deepEqual(met({ bank: false, hole: true }), ["ERT-05"]);
  assert.deepEqual(met({ bank: true, hole: true }), ["ERT-04", "ERT-05"]);
});
