/** What others may decide: shoring, a pump, no sewer, the dump. */

import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import type { QuantityLine } from "./bill.js";
import { type CostEvent, EVENT_ODDS, totalOf } from "./cost-event.js";
import type { SchemeParts } from "./scheme-parts.js";

export function shoring(
  { design, structure }: SchemeParts,
  quantities: readonly QuantityLine[],
): CostEvent | null {
  const { basement } = structure;
  if (!basement || totalOf(quantities, "SHORE") > 0) return null;
  const uphillFt = basement.sides.find((s) => s.side === "uphill")?.buriedFt ?? 0;
  const { shoringLeastFt, shoringMostFt } = EVENT_ODDS;
  const heightFt = Math.min(shoringMostFt, Math.max(shoringLeastFt, design.earthwork.temporaryCutFt));
  return {
    id: "shoring",
    name: "The dig must be shored though the open cut fitted",
    chance: EVENT_ODDS.shoring,
    because: "the soils engineer decides",
    lines: [
      {
        code: "SHORE",
        quantity: uphillFt * heightFt,
        unit: "face ft2",
        cause: "none",
        trace: `uphill face, ${measure(uphillFt, "ft", 1)} long, ${measure(heightFt, "ft", 1)} high`,
      },
    ],
  };
}

export function pump({ drainage }: SchemeParts): CostEvent | null {
  const below = drainage.tiers.filter((t) => t.tier !== "roof-and-surface");
  if (below.length === 0 || drainage.tiers.some((t) => !t.gravity)) return null;
  return {
    id: "pump",
    name: "The drains may not run out where they could, and a pump is needed",
    chance: EVENT_ODDS.pump,
    because: "nobody has agreed to the outlet",
    lines: [{ code: "SUMP", quantity: 1, unit: "each", cause: "none", trace: "once" }],
  };
}

export function noSewer({ request }: Site): CostEvent | null {
  const { sewer, septic } = request.utilities;
  if (sewer !== "unknown" || septic || request.brief.septic) return null;
  return {
    id: "no-sewer",
    name: "There is no sewer to join",
    chance: EVENT_ODDS.noSewer,
    because: "nobody has answered",
    lines: [{ code: "SEPTIC", quantity: 1, unit: "each", cause: "none", trace: "once" }],
  };
}

export function dump(quantities: readonly QuantityLine[]): CostEvent {
  return {
    id: "dump",
    name: "The dump refuses the soil or is over an hour away",
    chance: EVENT_ODDS.dump,
    because: "no dump named",
    lines: quantities
      .filter((l) => l.code === "HAUL")
      .map((haul) => ({
        ...haul,
        factor: (haul.factor ?? 1) * EVENT_ODDS.dumpAddsShareOfHaul,
        trace: "half of the haul on top",
      })),
  };
}
