/** The sheet of the survey preview: what of the ground it shows, at which scale, with scale bar and north arrow. */
import { boxOf, type Point, type Ring } from "../../analysis/geometry/plane.js";
import { el, type PagePoint, px } from "./svg.js";

const WIDTH_PX = 640;
const TALLEST_PX = 720;
const MARGIN_PX = 36;
const FOOT_PX = 46;
/** Ground round the lot that is shown, as a share of its size: enough to see that the survey goes on. */
const AROUND_SHARE = 0.2;
const INK = "var(--ink, #1f2a33)";
const SHEET = "var(--sheet, #fffefa)";

/** The map on the page: its size and scale, where a foot of the survey falls, and whether it is shown. */
export interface Frame {
  readonly width: number;
  readonly height: number;
  readonly mapBottom: number;
  readonly pxPerFt: number;
  readonly toPage: (at: Point) => PagePoint;
  readonly shows: (x: number, y: number) => boolean;
}

/** The lot and the ground round it, as large as the page allows. */
export function frameAround(boundary: Ring): Frame {
  const box = boxOf(boundary);
  const around = AROUND_SHARE * Math.max(box.maxEastFt - box.minEastFt, box.maxNorthFt - box.minNorthFt, 1);
  const west = box.minEastFt - around;
  const south = box.minNorthFt - around;
  const widthFt = box.maxEastFt + around - west;
  const heightFt = box.maxNorthFt + around - south;
  const pxPerFt = Math.min((WIDTH_PX - 2 * MARGIN_PX) / widthFt, (TALLEST_PX - 2 * MARGIN_PX) / heightFt);
  const width = Math.max(240, widthFt * pxPerFt + 2 * MARGIN_PX);
  const mapBottom = heightFt * pxPerFt + 2 * MARGIN_PX;
  const left = (width - widthFt * pxPerFt) / 2;
  const margin = MARGIN_PX / pxPerFt;
  return {
    width,
    height: mapBottom + FOOT_PX,
    mapBottom,
    pxPerFt,
    toPage: ([x, y]) => [left + (x - west) * pxPerFt, mapBottom - MARGIN_PX - (y - south) * pxPerFt],
    shows: (x, y) =>
      x > west - margin && x < west + widthFt + margin && y > south - margin && y < south + heightFt + margin,
  };
}

export function scaleBar({ mapBottom, pxPerFt, width }: Frame): string {
  const longest = (width * 0.35) / pxPerFt;
  const power = 10 ** Math.floor(Math.log10(longest));
  const lead = longest / power;
  const lengthFt = power * (lead >= 5 ? 5 : lead >= 2 ? 2 : 1);
  const y = mapBottom + 14;
  return el(
    "g",
    { class: "scale-bar" },
    el("path", {
      d: `M12 ${px(y)}v6h${px(lengthFt * pxPerFt)}v-6`,
      fill: "none",
      stroke: INK,
      "stroke-width": 1.4,
    }) +
      el(
        "text",
        { x: 12 + lengthFt * pxPerFt + 6, y: y + 8, "font-size": "13", fill: INK },
        `${lengthFt} ft`,
      ),
  );
}

export function north({ width, mapBottom }: Frame): string {
  return el(
    "g",
    { class: "north", transform: `translate(${px(width - 24)} ${px(mapBottom + 26)})` },
    el("path", { d: "M0-20L6 4L0 0Z", fill: INK }) +
      el("path", { d: "M0-20L-6 4L0 0Z", fill: SHEET, stroke: INK }) +
      el("text", { x: -18, y: 0, "text-anchor": "middle", "font-size": "14", fill: INK }, "N"),
  );
}
