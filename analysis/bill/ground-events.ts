/** What the ground may hold: rock, water, old fill, swelling clay. */

import { signedAreaFt2 } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import { CUBIC_FEET_PER_CUBIC_YARD } from "../units.js";
import type { QuantityLine } from "./bill.js";
import { type CostEvent, EVENT_ODDS, totalOf } from "./cost-event.js";
import type { SchemeParts } from "./scheme-parts.js";

export function rock(
  { request, survey }: Site,
  { design }: SchemeParts,
  quantities: readonly QuantityLine[],
): CostEvent {
  const dug = totalOf(quantities, "EXCAV", "EXCAV-BSMT");
  const known = request.soil.depthToRockFt;
  let chance: number = EVENT_ODDS.rock;
  let share: { low: number; likely: number; high: number } = EVENT_ODDS.rockShare;
  let because = "depth to rock unknown";
  if (known !== null) {
    const likely = shareBelow(design.graded.depth.values, known);
    chance = likely > 0 ? 1 : 0;
    // the depth given holds at one place: half and one and a half times the share elsewhere
    share = { low: likely / 2, likely, high: Math.min(1, 1.5 * likely) };
    because = `rock at ${measure(known, "ft")}: ${Math.round(100 * likely)} % of the cut lies deeper`;
  } else if (request.soil.kind === "rock") {
    chance = 1;
    share = EVENT_ODDS.rockGroundShare;
    because = "the ground is called rock";
  } else if (survey.features.some((f) => f.kind === "rock")) {
    chance += EVENT_ODDS.rockShotsAdd;
    because = "depth to rock unknown; the surveyor shot rock";
  }
  const { brokenShareOfRock } = EVENT_ODDS;
  const percent = `${Math.round(100 * share.low)}/${Math.round(100 * share.likely)}/${Math.round(100 * share.high)} % of what is dug`;
  return {
    id: "rock",
    name: "Rock is met in the dig",
    chance,
    because,
    lines: [
      severe(
        "ROCK-RIP",
        "bank yd3",
        dug * (1 - brokenShareOfRock),
        share,
        `${percent}, three quarters of it ripped`,
      ),
      severe(
        "ROCK-BREAK",
        "bank yd3",
        dug * brokenShareOfRock,
        share,
        `${percent}, a quarter of it hammered`,
      ),
    ],
  };
}

export function water({ request }: Site, { design, drainage }: SchemeParts): CostEvent {
  const known = request.soil.depthToWaterFt;
  const deepestFt = Math.max(design.earthwork.maxCutFt, design.earthwork.temporaryCutFt);
  const inSwale = drainage.catchmentFt2 > EVENT_ODDS.swaleCatchmentFt2;
  const met = inSwale ? EVENT_ODDS.waterInSwale : EVENT_ODDS.water;
  const unknown = deepestFt > EVENT_ODDS.shallowDigFt ? met : 0;
  return {
    id: "water",
    name: "Ground water runs into the dig",
    chance: known === null ? unknown : known < deepestFt ? 1 : 0,
    because:
      known !== null
        ? `water at ${measure(known, "ft")}, dig to ${measure(deepestFt, "ft", 1)}`
        : inSwale
          ? "depth to water unknown; more than a quarter acre drains onto the house"
          : "depth to water unknown",
    lines: [{ code: "DEWATER", quantity: 1, unit: "ls", cause: "none", trace: "once" }],
  };
}

export function oldFill({ request, terrain }: Site, { design, structure }: SchemeParts): CostEvent {
  const { oldFillDepthFt, oldFillPierFt } = EVENT_ODDS;
  const bench =
    design.slopeUnderHousePct.mean < EVENT_ODDS.benchSlopePct &&
    terrain.summary.meanSlopePct > EVENT_ODDS.steepAroundPct;
  const padYd3PerFt = Math.abs(signedAreaFt2(design.outline)) / CUBIC_FEET_PER_CUBIC_YARD;
  const piers = structure.foundation.piers;
  const compacted = 1 - request.soil.shrinkPct / 100;
  const depth = `${measure([oldFillDepthFt.low, oldFillDepthFt.likely, oldFillDepthFt.high], "ft", 0, "/")} under the pad`;
  return {
    id: "old-fill",
    name: "Old loose fill lies under the pad",
    // the depth of firm ground is already in the piers when somebody has measured it
    chance: request.soil.depthToFirmFt !== null ? 0 : bench ? EVENT_ODDS.oldFillOnBench : EVENT_ODDS.oldFill,
    because: bench ? "a flat bench on steep ground" : "depth to firm ground unknown",
    lines:
      piers > 0
        ? [
            severe(
              "PIER",
              "ft",
              piers,
              oldFillPierFt,
              `${piers} piers ${measure([oldFillPierFt.low, oldFillPierFt.high], "ft")} deeper`,
            ),
          ]
        : [
            severe("EXCAV", "bank yd3", padYd3PerFt, oldFillDepthFt, `dug out, ${depth}`),
            severe(
              "FILL",
              "compacted yd3",
              padYd3PerFt * compacted,
              oldFillDepthFt,
              `put back in lifts, ${depth}`,
            ),
          ],
  };
}

export function expansive(
  { request }: Site,
  { structure }: SchemeParts,
  quantities: readonly QuantityLine[],
): CostEvent {
  const { foundation } = structure;
  const given = request.soil.expansive;
  const plain = (code: string, unit: string, quantity: number, trace: string, factor = 1): QuantityLine => ({
    code,
    quantity,
    unit,
    cause: "none",
    factor,
    trace,
  });
  return {
    id: "expansive",
    name: "The soil swells when wet",
    chance: given === "unknown" ? EVENT_ODDS.expansive : given ? 1 : 0,
    because: given === "unknown" ? "not known" : "given in the request",
    lines: [
      plain(
        "PIER",
        "ft",
        foundation.piers * EVENT_ODDS.expansivePierFt,
        `${foundation.piers} piers ${measure(EVENT_ODDS.expansivePierFt, "ft")} deeper`,
      ),
      plain("VOIDFORM", "ft", foundation.gradeBeamFt, "under the grade beams"),
      plain(
        "SLAB-STRUCT",
        "ft2",
        totalOf(quantities, "SLAB"),
        "stiffened slab instead of a plain one, the difference",
        EVENT_ODDS.stiffenedSlabShare,
      ),
      plain("IMPORT", "compacted yd3", totalOf(quantities, "BACKFILL"), "backfill from elsewhere"),
    ],
  };
}

/** Share of the cut that lies deeper below natural ground than the depth given, by volume. */
function shareBelow(depths: Float32Array | Float64Array, depthFt: number): number {
  let all = 0;
  let below = 0;
  for (const cut of depths) {
    if (!(cut > 0)) continue;
    all += cut;
    below += Math.max(0, cut - depthFt);
  }
  return all > 0 ? below / all : 0;
}

/** A line of an event; `range` gives its likely quantity and the spread of how bad it is. */
function severe(
  code: string,
  unit: string,
  quantity: number,
  { low, likely, high }: { low: number; likely: number; high: number },
  trace: string,
): QuantityLine {
  return {
    code,
    quantity: quantity * likely,
    unit,
    cause: "severity",
    spread: [low / likely, high / likely],
    trace,
  };
}
