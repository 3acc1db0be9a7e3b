/** Draws of the money, kept from one study to the next. */
import type { BookItem } from "../book/book.js";
import { ColumnPool } from "../chance/columns.js";
import { StudyDraws } from "./study-draws.js";

export const DRAWS = 10_000;

/**
 * Prices, causes and events are drawn from the prices and the seed alone, so studies that share both (the lots of
 * a comparison, the day of a builder) can share the draws. Keeping them changes no number, only the time.
 * For one study at a time.
 */
export class MoneyDraws {
  /** Columns of the scheme and of the twins being added up. */
  readonly schemePool = new ColumnPool(DRAWS);
  readonly twinPool = new ColumnPool(DRAWS);
  #key = "";
  #draws: StudyDraws | null = null;

  /** The draws of these prices: those of the last study where nothing has changed. */
  of(prices: ReadonlyMap<string, BookItem>, seed: number): StudyDraws {
    const key = JSON.stringify([
      seed,
      [...prices.values()].map(({ code, label, unit, group, low, likely, high }) => [
        ...[code, label, unit, group],
        ...[low, likely, high],
      ]),
    ]);
    if (!this.#draws || key !== this.#key) this.#draws = new StudyDraws(prices, seed, DRAWS);
    this.#key = key;
    return this.#draws;
  }
}
