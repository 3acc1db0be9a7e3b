import { readFileSync } from "node:fs";
import { assert, test } from "vitest";
import { checkOverrides, currentPrices, likelyPrices, parseCostBook } from "../../analysis/book/index.js";
import { requestSchema, understandRequest } from "../../analysis/request/index.js";

type Json = { items: { code: string; group: string; low: number; likely: number; high: number }[] } & Record<
  string,
  unknown
>;

const file = readFileSync(new URL("../../demo-data/cost-book.json", import.meta.url), "utf8");
const fresh = (): Json => JSON.parse(file);
const requestOf = (costs: Readonly<Record<string, unknown>>) =>
  understandRequest(requestSchema.parse({ costs })).request;

function goodBook() {
  const read = parseCostBook(fresh());
  assert(read.ok, "the default book is refused");
  return read.book;
}

test("the default book holds the trade's items, each with origin, date and rising prices", () => {
  const { items } = goodBook();
  assert.equal(new Set(items.map((i) => i.code)).size, items.length);
  for (const { code, low, likely, high, origin, date } of items) {
    assert(0 < low && low <= likely && likely <= high, code);
    assert.match(origin, /from memory/);
    assert.match(date, /^\d{4}-\d{2}$/);
  }
  // a few prices as common practice has them, from memory: order of magnitude
  const price = (code: string) => items.find((i) => i.code === code);
  assert.deepInclude(price("WALL-8"), { low: 95, likely: 150, high: 240, group: "C", unit: "face ft2" });
  assert.deepInclude(price("HAUL"), { low: 14, likely: 24, high: 45, group: "E", unit: "loose yd3" });
  assert.deepInclude(price("HOUSE"), { low: 235, likely: 330, high: 500, group: "H" });
});

const itemOf = (book: Json, code: string) => book.items.find((i) => i.code === code)!;
const refusals: { what: string; spoil: (book: Json) => unknown; code: string; says: RegExp }[] = [
  {
    what: "an unknown market group",
    spoil: (b) => Object.assign(itemOf(b, "HAUL"), { group: "X" }),
    code: "book-unknown-group",
    says: /E, C, H, U, P, F, M/,
  },
  {
    what: "a low above the likely",
    spoil: (b) => Object.assign(itemOf(b, "DUMP"), { low: 20 }),
    code: "book-price-order",
    says: /DUMP.*20.*14.*40/,
  },
  {
    what: "a range that begins at 0",
    spoil: (b) => Object.assign(itemOf(b, "DUMP"), { low: 0 }),
    code: "book-price-zero",
    says: /DUMP/,
  },
  {
    what: "a code given twice",
    spoil: (b) => b.items.push({ ...itemOf(b, "PIER") }),
    code: "book-duplicate-code",
    says: /PIER/,
  },
  {
    what: "a code it does not know",
    spoil: (b) => b.items.push({ ...itemOf(b, "PIER"), code: "PEIR" }),
    code: "book-unknown-code",
    says: /PEIR/,
  },
  {
    what: "a missing item",
    spoil: (b) =>
      b.items.splice(
        b.items.findIndex((i) => i.code === "SHORE"),
        1,
      ),
    code: "book-missing-code",
    says: /SHORE/,
  },
  {
    what: "a price that is not a number",
    spoil: (b) => Object.assign(itemOf(b, "SLAB"), { likely: "19" }),
    code: "book-shape",
    says: /number/,
  },
  {
    what: "a price below 0",
    spoil: (b) => Object.assign(itemOf(b, "SLAB"), { low: -1 }),
    code: "book-shape",
    says: /0/,
  },
  {
    what: "a fee in dollars",
    spoil: (b) => Object.assign(itemOf(b, "FEE"), { unit: "ls" }),
    code: "book-unit",
    says: /FEE.*"ls"/,
  },
  {
    what: "a field it does not know",
    spoil: (b) => Object.assign(b, { currency: "EUR" }),
    code: "book-shape",
    says: /currency/,
  },
];
for (const { what, spoil, code, says } of refusals)
  test(`a book with ${what} is refused with a remedy`, () => {
    const book = fresh();
    spoil(book);
    const read = parseCostBook(book);
    assert(!read.ok);
    assert.deepEqual(
      read.problems.map((p) => p.code),
      [code],
    );
    assert.match(read.problems[0]!.message, says);
    assert.isAbove(read.problems[0]!.remedy.length, 3);
  });

test("every fault of a book is named, not only the first, and no input throws", () => {
  const book = fresh();
  itemOf(book, "DUMP").low = 99;
  itemOf(book, "HAUL").high = 1;
  const read = parseCostBook(book);
  assert(!read.ok);
  assert.lengthOf(read.problems, 2);
  for (const nonsense of [null, 7, "book", [], {}, { items: 3 }]) assert.isFalse(parseCostBook(nonsense).ok);
});

test("the region moves every price but fees and shares, the index moves fees too", () => {
  const book = goodBook();
  const plain = likelyPrices(book, requestOf({}));
  const region = likelyPrices(book, requestOf({ regionFactor: 0.7 }));
  assert.closeTo(region.EXCAV!, 16 * 0.7, 1e-12);
  assert.equal(region.PERMIT, plain.PERMIT);
  assert.equal(region.FEE, 14);
  // index ratio: price now = price then × index now ÷ index then
  const later = likelyPrices(book, requestOf({ escalation: { indexAtBook: 200, indexNow: 212 } }));
  assert.closeTo(later.PERMIT!, 30_000 * 1.06, 1e-9);
  assert.closeTo(later.EXCAV!, 16 * 1.06, 1e-12);
  assert.equal(later.ARCH, 9);
});

test("a price typed in the request stands as typed", () => {
  const request = requestOf({ regionFactor: 0.7, PIER: { low: 100, likely: 200, high: 300 } });
  const pier = currentPrices(goodBook(), request).get("PIER");
  assert.deepInclude(pier, { low: 100, likely: 200, high: 300 });
});

test("the finish chooses the house rate and leaves 12 % either way", () => {
  const rates = (["plain", "good", "high"] as const).map(
    (finishLevel) => currentPrices(goodBook(), requestOf({ finishLevel })).get("HOUSE")!,
  );
  assert.deepEqual(
    rates.map((r) => r.likely),
    [235, 330, 500],
  );
  for (const { low, likely, high } of rates) {
    assert.closeTo(low / likely, 0.88, 1e-12);
    assert.closeTo(high / likely, 1.12, 1e-12);
  }
});

test("a price for an unknown item is refused with the nearest names", () => {
  const price = { low: 1, likely: 2, high: 3 };
  const problems = checkOverrides(goodBook(), requestOf({ "WAL-8": price, HAUL: price }));
  assert.lengthOf(problems, 1);
  assert.equal(problems[0]!.where, "request.costs.WAL-8");
  assert.match(problems[0]!.remedy, /WALL-8/);
});

test("general conditions stand per month or as a share, and a price typed for the other is refused", () => {
  const perMonth = goodBook();
  const asShare = fresh();
  Object.assign(itemOf(asShare, "GENCOND"), { unit: "% of works", low: 8, likely: 11, high: 16 });
  const read = parseCostBook(asShare);
  assert(read.ok);
  const shares = { low: 9, likely: 12, high: 15 };
  const dollars = { low: 9000, likely: 12_000, high: 15_000 };
  assert.deepEqual(checkOverrides(perMonth, requestOf({ GENCOND: dollars })), []);
  assert.deepEqual(checkOverrides(read.book, requestOf({ GENCOND: shares })), []);
  for (const [book, price, says] of [
    [perMonth, shares, /each month/],
    [read.book, dollars, /percentage/],
  ] as const) {
    const [problem] = checkOverrides(book, requestOf({ GENCOND: price }));
    assert.equal(problem!.code, "cost-unit");
    assert.equal(problem!.where, "request.costs.GENCOND");
    assert.match(problem!.message + problem!.remedy, says);
  }
});
