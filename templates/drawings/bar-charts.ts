/** Charts whose rows carry their own words: what is left of the lot, ranges of money, months of a job. */
import { textWidth } from "./labels.js";
import { DIAMOND } from "./legend.js";
import { pct, type Scale, scaleOver } from "./scale.js";
import { chart, el, escapeText, type Picture } from "./svg.js";

const TEXT_PX = 14;
const LINE_PX = 18;
/** Under the last row: the axis and its words. */
const AXIS_PX = 26;
/** Narrowest page a chart must read on. */
const NARROWEST_PX = 310;

export interface ChartWords {
  readonly id: string;
  readonly title: string;
  readonly words: string;
}

interface RowWords {
  readonly name: string;
  /** At the right end of the row, or under the name where a phone has no room for both. */
  readonly value: string;
}

export interface WaterfallRow extends RowWords {
  readonly remaining: number;
  readonly removed: number;
}

/** Each step takes its bite from what the step before left; the last row is what remains. */
export function waterfall({ id, title, words }: ChartWords, rows: readonly WaterfallRow[]): Picture {
  const whole = Math.max(...rows.map((row) => row.remaining + row.removed), 1);
  const height = 16;
  const stacked = stack(
    rows,
    height,
    12,
    (row, y, last) => {
      const left = (100 * row.remaining) / whole;
      const bite = (100 * row.removed) / whole;
      return [
        el("rect", { class: "bar-track", x: "0", y, width: "100%", height }),
        el("rect", { class: last ? "bar-left" : "bar-kept", x: "0", y, width: pct(left), height }),
        bite > 0
          ? el("rect", { class: "bar-bite", fill: "url(#bite)", x: pct(left), y, width: pct(bite), height })
          : "",
      ].join("");
    },
    { lastStrong: true },
  );
  return chart(id, title, words, stacked.height, stacked.svg);
}

export interface RangeRow extends RowWords {
  readonly low: number;
  readonly middle: number;
  readonly high: number;
  /** Drawn in the quiet tone: the flat lot, ways that do not fit. */
  readonly quiet?: boolean;
}

/** Low to high as a bar, the middle as a stroke, on one axis for all rows. */
export function ranges(
  { id, title, words }: ChartWords,
  rows: readonly RangeRow[],
  tickText: (value: number) => string,
  fromZero = false,
): Picture {
  const scale = scaleOver(
    rows.flatMap((row) => [row.low, row.middle, row.high]),
    { fromZero },
  );
  const stacked = stack(
    rows,
    16,
    14,
    (row, y) => {
      const [a, m, b] = [scale.at(row.low), scale.at(row.middle), scale.at(row.high)];
      const width = pct(Math.max(0.4, b - a));
      return (
        el("rect", {
          class: row.quiet ? "range-quiet" : "range",
          fill: row.quiet ? undefined : "url(#range)",
          x: pct(a),
          y,
          width,
          height: 16,
        }) + el("line", { class: "range-middle", x1: pct(m), x2: pct(m), y1: y - 3, y2: y + 19 })
      );
    },
    { alike: true },
  );
  return chart(
    id,
    title,
    words,
    stacked.height + AXIS_PX,
    axis(scale, tickText, stacked.height) + stacked.svg,
  );
}

export interface SpanPart {
  readonly from: number;
  readonly to: number;
  readonly tone: "before" | "ground" | "below" | "house";
}

export interface SpanRow extends RowWords {
  readonly parts: readonly SpanPart[];
  /** Moments at which somebody must sign or look. */
  readonly holds: readonly number[];
}

/** Steps of a job along one clock. */
export function spans(
  { id, title, words }: ChartWords,
  rows: readonly SpanRow[],
  tickText: (value: number) => string,
): Picture {
  const scale = scaleOver(
    rows.flatMap(({ parts }) => parts.flatMap(({ from, to }) => [from, to])),
    { fromZero: true },
  );
  const stacked = stack(rows, 10, 7, (row, y) => {
    const bars = row.parts.map(({ from, to, tone }) => {
      const [a, b] = [scale.at(from), scale.at(to)];
      return el("rect", {
        class: `span-${tone}`,
        fill: tone === "house" ? undefined : `url(#months-${tone})`,
        x: pct(a),
        y,
        width: pct(Math.max(0.6, b - a)),
        height: 10,
      });
    });
    const diamond = el("path", { class: "hold", d: DIAMOND });
    const holds = row.holds.map((at) =>
      el("svg", { x: pct(scale.at(at)), y: y + 5, width: 1, height: 1, overflow: "visible" }, diamond),
    );
    return [...bars, ...holds].join("");
  });
  return chart(
    id,
    title,
    words,
    stacked.height + AXIS_PX,
    axis(scale, tickText, stacked.height) + stacked.svg,
  );
}

/** Rows from top to bottom: words, then what `bar` draws under them. */
function stack<R extends RowWords>(
  rows: readonly R[],
  barPx: number,
  gapPx: number,
  bar: (row: R, y: number, last: boolean) => string,
  { lastStrong = false, alike = false } = {},
): { svg: string; height: number } {
  let y = 0;
  const apart = alike && rows.some((row) => !linesOf(row).at(-1)!.name);
  const svg = rows.map((row, i) => {
    const last = i === rows.length - 1;
    const lines = linesOf(row, apart);
    const text = lines.map((line, k) => wordLine(line, y + TEXT_PX + k * LINE_PX, last && lastStrong));
    y += lines.length * LINE_PX + 4;
    const drawn = bar(row, y, last);
    y += barPx + gapPx;
    return text.join("") + drawn;
  });
  return { svg: svg.join(""), height: y };
}

interface WordLine {
  readonly name: string;
  readonly value: string;
}

/** The name, wrapped where it is long, and the value on its last line if a phone has room for both there and `apart` does not ask for a line of its own. */
function linesOf({ name, value }: RowWords, apart = false): WordLine[] {
  const lines: string[] = [];
  for (const word of name.split(" ")) {
    const longer = lines.length ? `${lines.at(-1)} ${word}` : word;
    if (lines.length && widthOf(longer) <= NARROWEST_PX) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  const fits = !apart && widthOf(`${lines.at(-1)}  ${value}`) <= NARROWEST_PX;
  return [
    ...lines.map((line, i) => ({ name: line, value: fits && i === lines.length - 1 ? value : "" })),
    ...(fits ? [] : [{ name: "", value }]),
  ];
}

/** `textWidth` is an upper bound over many faces; running text comes out about a tenth narrower. */
function widthOf(text: string): number {
  return 0.9 * textWidth(text, TEXT_PX);
}

function wordLine({ name, value }: WordLine, y: number, strong: boolean): string {
  const kind = strong ? "text-strong" : undefined;
  return (
    (name ? el("text", { x: "0", y, class: kind }, escapeText(name)) : "") +
    (value
      ? el("text", { x: "100%", y, "text-anchor": "end", class: kind ?? "text-value" }, escapeText(value))
      : "")
  );
}

function axis(scale: Scale, tickText: (value: number) => string, height: number): string {
  return scale.ticks
    .map((tick) => {
      const x = pct(scale.at(tick));
      return (
        el("line", { class: "tick", x1: x, x2: x, y1: 0, y2: height + 4 }) +
        el(
          "text",
          { class: "text-tick", x, y: height + 18, "text-anchor": "middle" },
          escapeText(tickText(tick)),
        )
      );
    })
    .join("");
}
