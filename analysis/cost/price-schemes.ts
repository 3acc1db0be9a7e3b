/** Money as ranges: every scheme, its flat twin and the difference, draw by draw. Method: docs/methods/cost.md */
import { flatTwinEvents, flatTwinQuantities, listEvents, type PricedDraft } from "../bill/index.js";
import type { CostBook } from "../book/book.js";
import { currentPrices } from "../book/current-prices.js";
import { type ColumnPool, sumParts } from "../chance/columns.js";
import { type Percentiles, percentiles, type Summary, shifted, summarise } from "../chance/percentiles.js";
import type { Site } from "../lot/site.js";
import type { PlannedTime } from "../schedule/schedule.js";
import { costBasis } from "./basis.js";
import type { SchemeCost } from "./cost.js";
import { type BillDraws, drawBill, type Job } from "./draw-costs.js";
import { findDrivers } from "./drivers.js";
import { hauledLoads } from "./hauled-loads.js";
import { itemPremiums } from "./item-premiums.js";
import { type BilledJob, listItems } from "./list-items.js";
import { DRAWS, MoneyDraws } from "./money-draws.js";
import { isShare } from "./shares.js";
import { timeSource } from "./time-source.js";

/** Draws behind the ranges of items, parts and what-ifs, which are side notes: known to about 3 %; as many as the months have. */
const SIDE_DRAWS = 2_000;
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

/** A bill and what its draws came to. */
interface Drawn extends BilledJob {
  readonly bill: BillDraws;
  readonly total: Summary;
}

/**
 * Cost of every draft in USD of the book's date and the request's region. Infeasible drafts are priced too.
 * The same request gives the same numbers; prices and causes are drawn once and shared by all drafts and twins.
 *
 * @param times of the drafts, in the same order
 * @param kept draws of earlier studies
 * @throws {RangeError} for a line whose code the book lacks.
 */
export function priceSchemes(
  site: Site,
  drafts: readonly PricedDraft[],
  times: readonly PlannedTime[],
  book: CostBook,
  kept = new MoneyDraws(),
): readonly SchemeCost[] {
  const { request } = site;
  const { regionFactor } = request.costs;
  const draws = kept.of(currentPrices(book, request), request.seed);
  const { schemePool, twinPool } = kept;
  twinPool.giveBackAll();
  const paidByMonth = !isShare(draws.item("GENCOND"));
  const drawn = (job: Omit<Job, "regionFactor">, pool: ColumnPool): Drawn => {
    const bill = drawBill(draws, { ...job, regionFactor }, pool);
    const { lines, events, buildingMonths } = job;
    return {
      lines,
      events,
      regionFactor,
      months: percentiles(buildingMonths),
      bill,
      total: summarise(bill.total),
    };
  };
  const twins = new Map<string, Drawn>();
  const twinEvents = flatTwinEvents(site);
  const twinOf = ({ design }: PricedDraft, withBasement: boolean, buildingMonths: Float64Array): Drawn => {
    const lines = flatTwinQuantities(site, design, withBasement);
    const key = JSON.stringify(lines.map((l) => [l.code, l.quantity, l.factor]));
    const twin = twins.get(key) ?? drawn({ lines, events: twinEvents, buildingMonths }, twinPool);
    twins.set(key, twin);
    return twin;
  };
  const basis = costBasis(book, request);
  const side = new Float64Array(SIDE_DRAWS);
  const known = new Map<Float64Array, Percentiles>();

  return drafts.map((draft, i): SchemeCost => {
    const { design, quantities } = draft;
    const { building } = times[i]!;
    const flat = twinOf(draft, false, building.flat);
    const flatBasement = building.flatWithBasement && twinOf(draft, true, building.flatWithBasement);
    schemePool.giveBackAll();
    const events = listEvents(site, draft, quantities);
    const hill = drawn({ lines: quantities, events, buildingMonths: building.hill }, schemePool);
    const { bill, total } = hill;
    const over = (twin: Drawn) =>
      sumParts(
        [
          { column: bill.total, times: 1 },
          { column: twin.bill.total, times: -1 },
        ],
        schemePool.take(),
      );

    const premium = over(flat);
    const premiumUsd = percentiles(premium);
    const sitework = percentiles(bill.sitework);
    const sources = [
      ...draws.sourcesOf([...quantities, ...flat.lines], events),
      ...(paidByMonth ? [timeSource(building.hill, schemePool.take())] : []),
    ];
    const drivers = findDrivers(bill.total, sources);

    return {
      p10Usd: total.p10,
      p50Usd: total.p50,
      p90Usd: total.p90,
      meanUsd: bill.total.reduce((sum, usd) => sum + usd, 0) / DRAWS,
      samplingErrorUsd: total.samplingError,
      siteworkP50Usd: sitework.p50,
      siteworkUsd: sitework,
      flatLotP50Usd: flat.total.p50,
      flatLotUsd: shifted(flat.total, 0),
      hillsidePremiumUsd: premiumUsd,
      premiumPerFt2Usd: shifted(premiumUsd, 0, 1 / design.floorAreaFt2),
      flatWithBasementUsd: flatBasement && shifted(flatBasement.total, 0),
      premiumOverFlatWithBasementUsd: flatBasement && percentiles(over(flatBasement)),
      premiumByPartUsd: PARTS.map(({ part, groups }) => ({
        part,
        premiumUsd: percentiles(
          sumParts(
            groups.flatMap((group) => [
              { column: bill.byGroup[group], times: 1 },
              { column: flat.bill.byGroup[group], times: -1 },
            ]),
            side,
          ),
        ),
      })),
      holdBackUsd: Math.max(total.p80 - total.p50, LEAST_HOLD_BACK_SHARE * sitework.p50),
      perFt2Usd: shifted(total, 0, 1 / design.floorAreaFt2),
      items: listItems(draws, hill, flat, itemPremiums(bill.parts, flat.bill.parts, side, known)),
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
