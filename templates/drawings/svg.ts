/** SVG as text: no document needed, nothing inserted unescaped. */
import type { MultiPolygon, Point } from "../../analysis/geometry/plane.js";

type Attributes = Readonly<Record<string, string | number | undefined>>;
export type PagePoint = readonly [x: number, y: number];

export function escapeText(text: string): string {
  return text.replace(
    /[&<>"']/g,
    (c) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" })[c]!,
  );
}

/** A tenth of a pixel is finer than any printer shows at this size. */
export function px(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`a drawing coordinate is ${value}`);
  const text = value.toFixed(1);
  return text.endsWith(".0") ? (text === "-0.0" ? "0" : text.slice(0, -2)) : text;
}

export function el(name: string, attributes: Attributes, inner?: string): string {
  let text = `<${name}`;
  for (const [key, value] of Object.entries(attributes))
    if (value !== undefined) text += ` ${key}="${typeof value === "number" ? px(value) : escapeText(value)}"`;
  return inner === undefined ? `${text}/>` : `${text}>${inner}</${name}>`;
}

/** A path through points in tenths of a pixel, written as steps from point to point: half the length of places. */
export function pathThrough(points: readonly PagePoint[], closed = false): string {
  if (points.length === 0) return "";
  let d = `M${px(points[0]![0])} ${px(points[0]![1])}`;
  let [x, y] = [tenths(points[0]![0]), tenths(points[0]![1])];
  let first = true;
  for (let i = 1; i < points.length; i++) {
    const [nextX, nextY] = [tenths(points[i]![0]), tenths(points[i]![1])];
    if (nextX === x && nextY === y) continue;
    const [dx, dy] = [short(nextX - x), short(nextY - y)];
    d += `${first ? "l" : dx.startsWith("-") ? "" : " "}${dx}${dy.startsWith("-") ? "" : " "}${dy}`;
    [x, y] = [nextX, nextY];
    first = false;
  }
  return closed ? `${d}Z` : d;
}

function tenths(value: number): number {
  if (!Number.isFinite(value)) throw new RangeError(`a drawing coordinate is ${value}`);
  return Math.round(value * 10);
}

/** Tenths as a number without a leading zero: "12", "-.3". */
function short(amount: number): string {
  const size = Math.abs(amount);
  return amount < 0 ? `-${SHORT[size] ?? shortSize(size)}` : (SHORT[size] ?? shortSize(size));
}

function shortSize(tenths: number): string {
  const whole = Math.floor(tenths / 10);
  const rest = tenths % 10;
  if (rest === 0) return `${whole}`;
  return whole === 0 ? `.${rest}` : `${whole}.${rest}`;
}

/** Most steps are short. */
const SHORT: readonly string[] = Array.from({ length: 1000 }, (_, tenths) => shortSize(tenths));

export function linePath(
  line: readonly (Point | readonly [number, number, number])[],
  toPage: (p: Point) => PagePoint,
): string {
  return pathThrough(line.map(([x, y]) => toPage([x, y])));
}

export function areaPath(polygons: MultiPolygon, toPage: (p: Point) => PagePoint): string {
  return polygons.flatMap((polygon) => polygon.map((ring) => pathThrough(ring.map(toPage), true))).join("");
}

export interface Picture {
  /** Unique in the page. */
  readonly id: string;
  /** What to see in it. */
  readonly title: string;
  /** The picture in words, for those who cannot see it. */
  readonly words: string;
  readonly svg: string;
}

/** A drawing with a fixed shape that scales with the page. */
export function drawing(
  id: string,
  title: string,
  words: string,
  width: number,
  height: number,
  body: string,
): Picture {
  const svg = el(
    "svg",
    {
      class: "drawing",
      viewBox: `0 0 ${px(width)} ${px(height)}`,
      role: "img",
      "aria-labelledby": `${id}-t ${id}-d`,
    },
    `${el("title", { id: `${id}-t` }, escapeText(title))}${el("desc", { id: `${id}-d` }, escapeText(words))}${body}`,
  );
  return { id, title, words, svg };
}

/** A chart as wide as the page, whose text keeps its size: across is in percent, down in pixels. */
export function chart(id: string, title: string, words: string, height: number, body: string): Picture {
  const svg = el(
    "svg",
    { class: "chart", width: "100%", height: px(height), role: "img", "aria-labelledby": `${id}-t ${id}-d` },
    `${el("title", { id: `${id}-t` }, escapeText(title))}${el("desc", { id: `${id}-d` }, escapeText(words))}${body}`,
  );
  return { id, title, words, svg };
}
