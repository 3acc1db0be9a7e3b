/** Charts whose rows carry their own words: what is left of the lot, ranges of money and months, what drives a range. */
import { pct, scaleOver } from "./scale.js";
import { chart, el, escapeText, type Picture } from "./svg.js";

const ROW_PX = 50;
const BAR_PX = 16;
const AXIS_PX = 26;

export interface ChartWords {
  readonly id: string;
  readonly title: string;
  readonly words: string;
}

interface RowWords {
  readonly name: string;
  /** At the right end of the row. */
  readonly value: string;
}

export interface WaterfallRow extends RowWords {
  readonly remaining: number;
  readonly removed: number;
}

/** Each step takes its bite from what the step before left. */
export function waterfall({ id, title, words }: ChartWords, rows: readonly WaterfallRow[]): Picture {
  const whole = Math.max(...rows.map((row) => row.remaining + row.removed), 1);
  const body = rows.map((row, i) => {
    const y = i * ROW_PX;
    const left = (100 * row.remaining) / whole;
    const bite = (100 * row.removed) / whole;
    const last = i === rows.length - 1;
    return [
      rowWords(row, y, last),
      el("rect", { class: "bar-track", x: "0", y: y + 22, width: "100%", height: BAR_PX }),
      el("rect", {
        class: last ? "bar-left" : "bar-kept",
        x: "0",
        y: y + 22,
        width: pct(left),
        height: BAR_PX,
      }),
      bite > 0
        ? el("rect", {
            class: "bar-bite",
            fill: "url(#bite)",
            x: pct(left),
            y: y + 22,
            width: pct(bite),
            height: BAR_PX,
          })
        : "",
    ].join("");
  });
  return chart(id, title, words, rows.length * ROW_PX, body.join(""));
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
  const height = rows.length * ROW_PX + AXIS_PX;
  const grid = axis(scale, tickText, height);
  const body = rows.map((row, i) => {
    const y = i * ROW_PX;
    const [a, m, b] = [scale.at(row.low), scale.at(row.middle), scale.at(row.high)];
    return [
      rowWords(row, y, false),
      el("rect", {
        class: row.quiet ? "range-quiet" : "range",
        fill: row.quiet ? undefined : "url(#range)",
        x: pct(a),
        y: y + 22,
        width: pct(Math.max(0.4, b - a)),
        height: BAR_PX,
      }),
      el("line", { class: "range-middle", x1: pct(m), x2: pct(m), y1: y + 18, y2: y + 42 }),
    ].join("");
  });
  return chart(id, title, words, height, grid + body.join(""));
}

export interface SpanRow extends RowWords {
  readonly from: number;
  readonly to: number;
  readonly tone: "before" | "ground" | "house";
  /** Somebody must sign before the next step. */
  readonly hold: boolean;
}

/** Steps of a job along one clock. */
export function spans(
  { id, title, words }: ChartWords,
  rows: readonly SpanRow[],
  tickText: (value: number) => string,
): Picture {
  const rowPx = 36;
  const scale = scaleOver(
    rows.flatMap((row) => [row.from, row.to]),
    { fromZero: true },
  );
  const height = rows.length * rowPx + AXIS_PX;
  const body = rows.map((row, i) => {
    const y = i * rowPx;
    const [a, b] = [scale.at(row.from), scale.at(row.to)];
    const fill = row.tone === "house" ? undefined : `url(#months-${row.tone})`;
    return [
      rowWords(row, y, false),
      el("rect", {
        class: `span-${row.tone}`,
        fill,
        x: pct(a),
        y: y + 20,
        width: pct(Math.max(0.6, b - a)),
        height: 10,
      }),
      row.hold
        ? el(
            "svg",
            { x: pct(b), y: y + 25, width: 1, height: 1, overflow: "visible" },
            el("path", { class: "hold", d: "M0-7L6 0L0 7L-6 0Z" }),
          )
        : "",
    ].join("");
  });
  return chart(id, title, words, height, axis(scale, tickText, height) + body.join(""));
}

function rowWords({ name, value }: RowWords, y: number, strong: boolean): string {
  const kind = strong ? "text-strong" : undefined;
  return (
    el("text", { x: "0", y: y + 15, class: kind }, escapeText(name)) +
    el("text", { x: "100%", y: y + 15, "text-anchor": "end", class: kind ?? "text-value" }, escapeText(value))
  );
}

function axis(
  scale: ReturnType<typeof scaleOver>,
  tickText: (value: number) => string,
  height: number,
): string {
  return scale.ticks
    .map((tick) => {
      const x = pct(scale.at(tick));
      return (
        el("line", { class: "tick", x1: x, x2: x, y1: 0, y2: height - AXIS_PX + 4 }) +
        el(
          "text",
          { class: "text-tick", x, y: height - 8, "text-anchor": "middle" },
          escapeText(tickText(tick)),
        )
      );
    })
    .join("");
}
