/** Every draw of every price and quantity cause of one study, made once and shared by all schemes and twins. */

import type { QuantityCause, QuantityLine } from "../bill/bill.js";
import type { CostEvent } from "../bill/cost-event.js";
import type { BookItem, MarketGroup } from "../book/book.js";
import { ColumnPool } from "../chance/columns.js";
import { kept } from "../chance/kept.js";
import { normals, uniforms } from "../chance/random-streams.js";
import { drawRange } from "../chance/ranges.js";
import { Source } from "./drivers.js";
import { sharedScores } from "./price-ranges.js";

/** P10 and P90 of a quantity over its likely value by cause: over-excavation and growth of the design. Judgement, from memory. */
const CAUSE_SPREADS: Readonly<Record<Exclude<QuantityCause, "severity">, readonly [number, number]>> = {
  none: [1, 1],
  ground: [0.85, 1.25],
  walls: [0.85, 1.25],
  drains: [0.85, 1.25],
  "pier-depth": [12 / 16, 25 / 16],
  driveway: [0.95, 1.15],
  topsoil: [0.5, 2],
};

/** Loose volume over the one the request's swell gives: kinds of earth and agencies differ. From memory, order of magnitude. */
const SWELL_SPREAD = [0.93, 1.1] as const;

const GROUP_NAMES: Readonly<Record<MarketGroup, string>> = {
  E: "Earthwork prices",
  C: "Concrete and wall prices",
  H: "House building prices",
  U: "Utility prices",
  P: "Fees of engineers and architect",
  F: "Permit fees",
  M: "Overhead and profit",
};

const CAUSE_NAMES: Readonly<Record<QuantityCause, string>> = {
  none: "",
  ground: "How much dirt there really is",
  walls: "How much wall there really is",
  drains: "How long the drains really are",
  "pier-depth": "How deep the piers go",
  driveway: "How long the drive really is",
  topsoil: "How deep the topsoil is",
  severity: "",
};

/** Streams keyed by name, drawn when first asked for. */
export class StudyDraws {
  readonly prices: ReadonlyMap<string, BookItem>;
  readonly count: number;
  readonly #seed: number;
  readonly #pool: ColumnPool;
  readonly #scores = new Map<string, Float64Array>();
  readonly #priceDraws = new Map<string, Float64Array>();
  readonly #quantityDraws = new Map<string, Float64Array>();
  readonly #unitDraws = new Map<string, Float64Array>();
  readonly #sources = new Map<string, Source>();

  constructor(prices: ReadonlyMap<string, BookItem>, seed: number, count: number) {
    this.prices = prices;
    this.#seed = seed;
    this.count = count;
    this.#pool = new ColumnPool(count);
  }

  /** @throws {RangeError} for a code the book does not hold. */
  item(code: string): BookItem {
    const item = this.prices.get(code);
    if (!item) throw new RangeError(`no price for ${code}`);
    return item;
  }

  /** Unit price of an item in every draw: USD per unit, or percent. */
  priceDraws(code: string): Float64Array {
    return kept(this.#priceDraws, code, () => {
      const item = this.item(code);
      const { group } = item;
      const column = this.#pool.take();
      if (item.low === item.high) return column.fill(item.likely);
      const scores = sharedScores(
        group,
        this.#normal("market"),
        this.#normal(`group:${group}`),
        this.#normal(`price:${code}`),
        column,
      );
      return drawRange(item, scores, column);
    });
  }

  /** Price × growth of the quantity in every draw, shared by all lines of the code with the same growth. */
  unitDraws(line: QuantityLine, eventId: string | null): Float64Array {
    const price = this.priceDraws(line.code);
    const growth = this.quantityDraws(line, eventId);
    if (!growth) return price;
    return kept(this.#unitDraws, `${line.code}:${this.#growthKey(line, eventId)}`, () => {
      const column = this.#pool.take();
      for (let i = 0; i < column.length; i++) column[i] = price[i]! * growth[i]!;
      return column;
    });
  }

  /** Quantity over its likely value in every draw; null where it does not vary. */
  quantityDraws(line: QuantityLine, eventId: string | null): Float64Array | null {
    const [low, high] = spreadOf(line);
    if (low === 1 && high === 1 && !line.swells) return null;
    return kept(this.#quantityDraws, this.#growthKey(line, eventId), () => {
      const column = this.#pool.take();
      drawRange({ low, likely: 1, high }, this.#normal(streamOf(line, eventId)), column);
      if (!line.swells) return column;
      const [least, most] = SWELL_SPREAD;
      const swell = drawRange({ low: least, likely: 1, high: most }, this.#normal("quantity:swell"));
      for (let i = 0; i < column.length; i++) column[i]! *= swell[i]!;
      return column;
    });
  }

  /** Scores of the survey's bias: one surface, one error for all that is measured from it. */
  surveyScores(): Float64Array {
    return this.#normal("survey");
  }

  /** 1 in the draws in which the event happens. */
  occurrences(eventId: string, chance: number): Float64Array {
    return kept(this.#quantityDraws, `event:${eventId}:${chance}`, () => {
      const even = kept(this.#scores, `event:${eventId}`, () =>
        uniforms(this.#seed, `event:${eventId}`, this.count),
      );
      return even.map((u) => (u < chance ? 1 : 0));
    });
  }

  /** The independent sources behind these lines and events, for asking what drives a sum. */
  sourcesOf(lines: readonly QuantityLine[], events: readonly CostEvent[]): Source[] {
    const sources = new Map<string, Source>();
    const add = (stream: string, name: string, kind: "price" | "quantity") => {
      if (!sources.has(stream)) sources.set(stream, this.#source(name, stream, this.#normal(stream), kind));
    };
    add("market", "All prices high or low together", "price");
    for (const line of [...lines, ...events.flatMap((e) => e.lines)]) {
      const item = this.item(line.code);
      if (item.high > item.low) {
        add(`group:${item.group}`, GROUP_NAMES[item.group], "price");
        add(`price:${line.code}`, `Price: ${item.label}`, "price");
      }
      if (line.cause !== "none" && line.cause !== "severity")
        add(`quantity:${line.cause}`, CAUSE_NAMES[line.cause], "quantity");
      if (line.swells) add("quantity:swell", "How much the soil swells in the truck", "quantity");
      if (line.surveySigma) add("survey", "How right the survey's heights are", "quantity");
    }
    for (const event of events) {
      if (event.chance < 1) {
        const key = `event:${event.id}:${event.chance}`;
        sources.set(key, this.#source(event.name, key, this.occurrences(event.id, event.chance), "event"));
      }
      if (event.lines.some((l) => l.cause === "severity"))
        add(`severity:${event.id}`, `${event.name}: how bad`, "quantity");
    }
    return [...sources.values()];
  }

  #source(name: string, key: string, scores: Float64Array, kind: Source["kind"]): Source {
    return kept(this.#sources, key, () => new Source(name, scores, kind));
  }

  #growthKey(line: QuantityLine, eventId: string | null): string {
    return `${streamOf(line, eventId)}:${spreadOf(line).join(":")}:${line.swells === true}`;
  }

  #normal(stream: string): Float64Array {
    return kept(this.#scores, stream, () => normals(this.#seed, stream, this.count, this.#pool.take()));
  }
}

/** P10 and P90 of a line's quantity over its likely value. */
export function spreadOf({ cause, spread }: QuantityLine): readonly [number, number] {
  return spread ?? (cause === "severity" ? [1, 1] : CAUSE_SPREADS[cause]);
}

/** Name of the luck a line's quantity has. */
function streamOf({ cause }: QuantityLine, eventId: string | null): string {
  return cause === "severity" ? `severity:${eventId}` : `quantity:${cause}`;
}
