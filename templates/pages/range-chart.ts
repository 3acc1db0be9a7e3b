/** Ranges of several lots on one axis: a bar from low to high, a tick at the middle. */
import { el, escapeText, px } from "../drawings/svg.js";

export interface RangeRow {
  readonly name: string;
  readonly low: number;
  readonly middle: number;
  readonly high: number;
  readonly words: string;
}

const WIDTH_PX = 720;
const NAME_PX = 240;
const ROW_PX = 34;
const TOP_PX = 26;
const PAD_PX = 12;

/** Axis steps are 1, 2 or 5 times a power of ten, at most six of them. */
export function axisSteps(low: number, high: number): number[] {
  const span = high - low || 1;
  const power = 10 ** Math.floor(Math.log10(span / 5));
  const step = [1, 2, 5, 10].map((n) => n * power).find((s) => span / s <= 6) ?? 10 * power;
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step);
}

export function rangeChart(
  title: string,
  rows: readonly RangeRow[],
  label: (value: number) => string,
): string {
  const low = Math.min(0, ...rows.map((row) => row.low));
  const high = Math.max(0, ...rows.map((row) => row.high)) || 1;
  const across = (value: number) => NAME_PX + ((value - low) / (high - low)) * (WIDTH_PX - NAME_PX - PAD_PX);
  const height = TOP_PX + rows.length * ROW_PX + 6;
  const grid = axisSteps(low, high).map((value) => {
    const x = across(value);
    return (
      el("path", {
        class: value === 0 ? "axis-zero" : "axis-line",
        d: `M${px(x)} ${TOP_PX - 6}V${height - 4}`,
      }) + el("text", { class: "axis-text", x, y: TOP_PX - 10 }, escapeText(label(value)))
    );
  });
  const bars = rows.map((row, i) => {
    const y = TOP_PX + i * ROW_PX;
    const [from, to] = [across(row.low), across(row.high)];
    return (
      el("text", { class: "range-name", x: 0, y: y + 20 }, escapeText(shortened(row.name))) +
      el("rect", { class: "range-bar", x: from, y: y + 9, width: Math.max(1, to - from), height: 14 }) +
      el("path", { class: "range-middle", d: `M${px(across(row.middle))} ${y + 5}v22` })
    );
  });
  return el(
    "svg",
    {
      class: "range-chart",
      viewBox: `0 0 ${WIDTH_PX} ${height}`,
      role: "img",
      "aria-label": `${title}. ${rows.map((row) => `${row.name}: ${row.words}`).join(". ")}.`,
    },
    grid.join("") + bars.join(""),
  );
}

function shortened(name: string): string {
  return name.length > 36 ? `${name.slice(0, 35)}…` : name;
}
