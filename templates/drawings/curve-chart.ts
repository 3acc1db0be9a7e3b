/** One value against another: ground left against the slope limit, dirt to haul against the pad's level. */
import type { ChartWords } from "./bar-charts.js";
import { pct, scaleOver } from "./scale.js";
import { chart, el, escapeText, type Picture, px } from "./svg.js";

const PLOT_PX = 190;
const TOP_PX = 44;
const AXIS_PX = 44;

export interface Curve {
  readonly points: readonly (readonly [x: number, y: number])[];
  /** Places on the curve that a rule forbids: the stretch about each is hatched, half-way to its neighbors. */
  readonly forbidden?: readonly boolean[];
  /** The place of this study on the curve. */
  readonly mark: { readonly x: number; readonly text: string } | undefined;
  readonly xName: string;
  readonly yName: string;
  readonly xTick: (value: number) => string;
  readonly yTick: (value: number) => string;
}

export function curve(
  { id, title, words }: ChartWords,
  { points, forbidden = [], mark, xName, yName, xTick, yTick }: Curve,
): Picture {
  const across = scaleOver(points.map(([x]) => x));
  const up = scaleOver(
    points.map(([, y]) => y),
    { fromZero: true, mostTicks: 3 },
  );
  const lowest = up.at(up.ticks[0]!);
  const span = up.at(up.ticks.at(-1)!) - lowest;
  const y = (value: number) => TOP_PX + PLOT_PX * (1 - (up.at(value) - lowest) / span);
  const plotted = points.map(([a, b]) => `${px(across.at(a) * 10)} ${px(y(b) - TOP_PX)}`);
  const base = px(PLOT_PX);
  const first = px(across.at(points[0]![0]) * 10);
  const last = px(across.at(points.at(-1)![0]) * 10);
  // The line lives on a stretched sheet of its own; strokes and words do not stretch with it.
  const stretched = el(
    "svg",
    {
      x: 0,
      y: TOP_PX,
      width: "100%",
      height: PLOT_PX,
      viewBox: `0 0 1000 ${PLOT_PX}`,
      preserveAspectRatio: "none",
      overflow: "visible",
    },
    el("path", { class: "curve-under", d: `M${first} ${base}L${plotted.join("L")}L${last} ${base}Z` }) +
      el("path", { class: "curve", d: `M${plotted.join("L")}` }),
  );
  const rows = up.ticks.map((tick) =>
    el("line", { class: "tick", x1: "0", x2: "100%", y1: y(tick), y2: y(tick) }),
  );
  const heights = up.ticks
    .filter((tick) => tick !== 0)
    .map((tick) => el("text", { class: "text-tick", x: "0", y: y(tick) - 4 }, escapeText(yTick(tick))));
  const columns = across.ticks.map((tick) =>
    el(
      "text",
      { class: "text-tick", x: pct(across.at(tick)), y: TOP_PX + PLOT_PX + 18, "text-anchor": "middle" },
      escapeText(xTick(tick)),
    ),
  );
  const names =
    el("text", { x: "0", y: 12, class: "text-value" }, escapeText(yName)) +
    el(
      "text",
      { x: "100%", y: TOP_PX + PLOT_PX + 38, "text-anchor": "end", class: "text-value" },
      escapeText(xName),
    );
  return chart(
    id,
    title,
    words,
    TOP_PX + PLOT_PX + AXIS_PX,
    rows.join("") +
      stretched +
      stretchesOf(points, forbidden)
        .map(([from, to]) => hatched(across.at(from), across.at(to)))
        .join("") +
      heights.join("") +
      columns.join("") +
      names +
      (mark ? marker(mark, across.at(mark.x), points, y) : ""),
  );
}

function hatched(from: number, to: number): string {
  return el("rect", {
    class: "forbidden",
    fill: "url(#no-build)",
    x: pct(from),
    y: TOP_PX,
    width: pct(to - from),
    height: PLOT_PX,
  });
}

/** Stretches of forbidden points, each reaching half-way to the next allowed one. */
export function stretchesOf(
  points: Curve["points"],
  forbidden: readonly boolean[],
): (readonly [from: number, to: number])[] {
  const between = (i: number, k: number) => (points[i]![0] + (points[k] ?? points[i]!)[0]) / 2;
  const stretches: [number, number][] = [];
  points.forEach((_, i) => {
    if (!forbidden[i]) return;
    const to = between(i, i + 1);
    if (forbidden[i - 1]) stretches.at(-1)![1] = to;
    else stretches.push([between(i, i - 1), to]);
  });
  return stretches;
}

function marker(
  mark: { x: number; text: string },
  x: number,
  points: Curve["points"],
  y: (value: number) => number,
): string {
  const at = y(valueAt(points, mark.x));
  // Words go to the side with more room, over the line's own foot so they miss the ticks at the left.
  const left = x > 55;
  return [
    el("line", { class: "mark-line", x1: pct(x), x2: pct(x), y1: at, y2: TOP_PX + PLOT_PX }),
    el("circle", { class: "mark", cx: pct(x), cy: at, r: 5 }),
    el(
      "text",
      {
        class: "text-strong",
        x: pct(left ? x - 2 : x + 2),
        y: TOP_PX + PLOT_PX - at < 26 ? at - 12 : TOP_PX + PLOT_PX - 8,
        "text-anchor": left ? "end" : "start",
      },
      escapeText(mark.text),
    ),
  ].join("");
}

function valueAt(points: Curve["points"], x: number): number {
  for (let i = 1; i < points.length; i++) {
    const [ax, ay] = points[i - 1]!;
    const [bx, by] = points[i]!;
    if (x >= Math.min(ax, bx) && x <= Math.max(ax, bx))
      return bx === ax ? by : ay + ((by - ay) * (x - ax)) / (bx - ax);
  }
  return (x < points[0]![0] ? points[0]! : points.at(-1)!)[1];
}
