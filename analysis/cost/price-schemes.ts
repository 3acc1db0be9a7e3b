/** Money as ranges: every scheme, its flat twin and the difference, draw by draw. Method: docs/methods/cost.md */

import type { QuantityLine } from "../bill/bill.js";
import { flatTwinQuantities } from "../bill/flat-twin.js";
import type { PricedDraft } from "../bill/scheme-parts.js";
import type { CostBook, MarketGroup } from "../book/book.js";
import { currentPrices } from "../book/index.js";
import { type Percentiles, percentiles, quantiles, samplingErrors, shifted } from "../chance/percentiles.js";
import type { Site } from "../lot/site.js";
import { costBasis } from "./basis.js";
import type { SchemeCost } from "./cost.js";
import { addTo, type BillDraws, drawBill } from "./draw-costs.js";
import { findDrivers } from "./drivers.js";
import { hauledLoads } from "./hauled-loads.js";
import { listEvents } from "./list-events.js";
import { listItems } from "./list-items.js";
import { StudyDraws } from "./study-draws.js";

export const DRAWS = 10_000;
/** Draws behind the ranges of parts and of what-ifs, which are side notes: known to about 2 %. */
const SIDE_DRAWS = 4_000;
/** Least money to hold back, as a share of the sitework. Common practice, no source. */
export const LEAST_HOLD_BACK_SHARE = 0.1;

const PARTS = [
  { part: "Dirt, drains and erosion control", groups: ["E"] },
  { part: "Walls, foundation, drive", groups: ["C"] },
  { part: "House above the foundation", groups: ["H"] },
  { part: "Utilities", groups: ["U"] },
  { part: "Engineers, architect, fees", groups: ["P", "F"] },
  { part: "General conditions, overhead and profit", groups: ["M"] },
] as const;

/**
 * Cost of every draft in USD of the book's date and the request's region. Infeasible drafts are priced too.
 * The same request gives the same numbers; prices and causes are drawn once and shared by all drafts and twins.
 *
 * @throws {RangeError} for a line whose code the book lacks.
 */
export function priceSchemes(
  site: Site,
  drafts: readonly PricedDraft[],
  book: CostBook,
): readonly SchemeCost[] {
  const { request } = site;
  const draws = new StudyDraws(currentPrices(book, request), request.seed, DRAWS);
  const twins = new Map<string, { lines: readonly QuantityLine[]; bill: BillDraws; total: Percentiles }>();
  const twinOf = (draft: PricedDraft, withBasement: boolean) => {
    const lines = flatTwinQuantities(site, draft.design, withBasement);
    const key = JSON.stringify(lines.map((l) => [l.code, l.quantity, l.factor]));
    let twin = twins.get(key);
    if (!twin) {
      const bill = drawBill(draws, lines, [], request.costs.regionFactor);
      twin = { lines, bill, total: percentiles(bill.total) };
      twins.set(key, twin);
    }
    return twin;
  };
  const basis = costBasis(book, request);

  return drafts.map((draft): SchemeCost => {
    const { design, quantities } = draft;
    const events = listEvents(site, draft, quantities);
    const bill = drawBill(draws, quantities, events, request.costs.regionFactor);
    const flat = twinOf(draft, false);
    const flatBasement = design.levels.some((l) => l.role === "basement") ? twinOf(draft, true) : null;

    const premium = minus(bill.total, flat.bill.total);
    const sitework = percentiles(bill.sitework);
    const premiumUsd = percentiles(premium);
    const totalUsd = percentiles(bill.total);
    const sources = draws.sourcesOf([...quantities, ...flat.lines], events);
    const drivers = findDrivers(bill.total, sources);

    return {
      p10Usd: totalUsd.p10,
      p50Usd: totalUsd.p50,
      p90Usd: totalUsd.p90,
      meanUsd: bill.total.reduce((sum, usd) => sum + usd, 0) / DRAWS,
      samplingErrorUsd: samplingErrors(bill.total),
      siteworkP50Usd: sitework.p50,
      siteworkUsd: sitework,
      flatLotP50Usd: flat.total.p50,
      flatLotUsd: flat.total,
      hillsidePremiumUsd: premiumUsd,
      premiumPerFt2Usd: shifted(premiumUsd, 0, 1 / design.floorAreaFt2),
      flatWithBasementUsd: flatBasement?.total ?? null,
      premiumOverFlatWithBasementUsd: flatBasement && percentiles(minus(bill.total, flatBasement.bill.total)),
      premiumByPartUsd: PARTS.map(({ part, groups }) => ({
        part,
        premiumUsd: percentiles(minus(sumOf(bill, groups), sumOf(flat.bill, groups))),
      })),
      holdBackUsd: Math.max(
        quantiles(bill.total, [0.8])[0]! - totalUsd.p50,
        LEAST_HOLD_BACK_SHARE * sitework.p50,
      ),
      perFt2Usd: shifted(totalUsd, 0, 1 / design.floorAreaFt2),
      items: listItems(draws, quantities, events, flat.lines, request.costs.regionFactor),
      drivers: drivers.strongest,
      spread: drivers.spread,
      premiumDrivers: findDrivers(premium, sources).strongest,
      whatIfs: bill.events.map(({ event, addsUsd }) => ({
        name: event.name,
        chance: event.chance,
        addsUsd: percentiles(addsUsd.subarray(0, SIDE_DRAWS)),
      })),
      offer: compareOffer(request.offer, premium, premiumUsd),
      hauledLoads: hauledLoads(draws, quantities, request),
      draws: DRAWS,
      basis,
    };
  });
}

/** All-in is asking price and premium: what flat land for the same money must beat. */
function compareOffer(
  { askingUsd, flatLotUsd }: Site["request"]["offer"],
  premiumDraws: Float64Array,
  premium: Percentiles,
): SchemeCost["offer"] {
  if (askingUsd === null) return null;
  if (flatLotUsd === null)
    return {
      askingUsd,
      flatLotUsd,
      allInUsd: shifted(premium, askingUsd),
      evenPriceUsd: null,
      chanceCheaper: null,
    };
  return {
    askingUsd,
    flatLotUsd,
    allInUsd: shifted(premium, askingUsd),
    evenPriceUsd: {
      p10: flatLotUsd - premium.p90,
      p50: flatLotUsd - premium.p50,
      p90: flatLotUsd - premium.p10,
    },
    chanceCheaper: premiumDraws.filter((usd) => askingUsd + usd < flatLotUsd).length / premiumDraws.length,
  };
}

function minus(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(a.length);
  for (let i = 0; i < out.length; i++) out[i] = a[i]! - b[i]!;
  return out;
}

/** Over the first SIDE_DRAWS draws. */
function sumOf(bill: BillDraws, groups: readonly MarketGroup[]): Float64Array {
  const out = new Float64Array(SIDE_DRAWS);
  for (const group of groups) addTo(out, bill.byGroup[group]);
  return out;
}
