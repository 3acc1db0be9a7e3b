/** The sheet every plan is drawn on: site feet to page, neat line, scale bar, north needle. */
import { boxOf, type Point, type Box as SiteBox } from "../../analysis/geometry/plane.js";
import type { Format } from "../view/format.js";
import { type LabelField, labelField, textOf } from "./labels.js";
import { el, type PagePoint, pathThrough, px } from "./svg.js";

export const SHEET_WIDTH = 640;
const NARROWEST_SHEET = 480;
/** Under the neat line: scale bar, downhill arrow, north needle. */
const FOOT_PX = 58;
const NEAT_PX = 5;

export interface Sheet {
  readonly width: number;
  readonly height: number;
  /** Bottom of the map, above the strip with scale and north. */
  readonly mapBottom: number;
  readonly pxPerFt: number;
  readonly toPage: (point: Point) => PagePoint;
  readonly labels: LabelField;
  readonly clipId: string;
}

/** A north-up sheet for a part of the site, with `marginPx` of paper around it. */
export function planSheet(id: string, points: Iterable<Point>, marginPx = 44, tallestPx = 580): Sheet {
  return sheetFor(id, boxOf(points), marginPx, tallestPx);
}

function sheetFor(id: string, box: SiteBox, marginPx: number, tallestPx: number): Sheet {
  const widthFt = Math.max(1, box.maxEastFt - box.minEastFt);
  const heightFt = Math.max(1, box.maxNorthFt - box.minNorthFt);
  const pxPerFt = Math.min((SHEET_WIDTH - 2 * marginPx) / widthFt, (tallestPx - 2 * marginPx) / heightFt);
  const mapBottom = Math.ceil(heightFt * pxPerFt + 2 * marginPx);
  // A tall lot gets a narrower sheet, so that it is not lost on a wide one.
  const width = Math.max(NARROWEST_SHEET, Math.min(SHEET_WIDTH, Math.ceil(widthFt * pxPerFt + 4 * marginPx)));
  const left = (width - widthFt * pxPerFt) / 2;
  return {
    width,
    height: mapBottom + FOOT_PX,
    mapBottom,
    pxPerFt,
    toPage: ([east, north]) => [
      left + (east - box.minEastFt) * pxPerFt,
      mapBottom - marginPx - (north - box.minNorthFt) * pxPerFt,
    ],
    labels: labelField(width, mapBottom, true),
    clipId: `${id}-map`,
  };
}

/** Neat line with corner ticks, and what is drawn clipped to it. */
export function onSheet(sheet: Sheet, clipped: string, above: string): string {
  const { width, mapBottom, clipId } = sheet;
  const inner = { x: NEAT_PX, y: NEAT_PX, width: width - 2 * NEAT_PX, height: mapBottom - 2 * NEAT_PX };
  return [
    el("clipPath", { id: clipId }, el("rect", inner)),
    el("rect", { ...inner, class: "sheet" }),
    el("g", { "clip-path": `url(#${clipId})` }, clipped),
    el("rect", { ...inner, class: "neat" }),
    el("path", { class: "neat-corner", d: corners(width, mapBottom) }),
    above,
    sheet.labels.svg(),
  ].join("");
}

function corners(width: number, height: number): string {
  const a = 1;
  const b = 16;
  return [
    pathThrough([
      [a, b],
      [a, a],
      [b, a],
    ]),
    pathThrough([
      [width - b, a],
      [width - a, a],
      [width - a, b],
    ]),
    pathThrough([
      [width - a, height - b],
      [width - a, height - a],
      [width - b, height - a],
    ]),
    pathThrough([
      [b, height - a],
      [a, height - a],
      [a, height - b],
    ]),
  ].join("");
}

/** Scale bar at the left of the foot strip, north needle at the right, and where the ground falls to between them. */
export function sheetFoot(sheet: Sheet, format: Format, downhillAzimuthDeg?: number): string {
  const y = sheet.mapBottom + 22;
  const north = el(
    "g",
    { transform: `translate(${px(sheet.width - 26)} ${px(sheet.mapBottom + 30)})` },
    NORTH,
  );
  const down =
    downhillAzimuthDeg === undefined
      ? ""
      : el(
          "g",
          { transform: `translate(${px(sheet.width * 0.62)} ${px(sheet.mapBottom + 30)})` },
          downhill(downhillAzimuthDeg),
        );
  return scaleBar(8, y, sheet.pxPerFt, format, sheet.width * 0.36) + down + north;
}

/** A split needle: the dark half looks north. */
const NORTH = [
  el("path", { class: "needle-dark", d: "M0-22L6 4L0 0Z" }),
  el("path", { class: "needle-light", d: "M0-22L-6 4L0 0Z" }),
  el("path", { class: "needle-light", d: "M0 0L3 14L0 11L-3 14Z" }),
  textOf({ x: -20, y: -6, text: "N", anchor: "middle", kind: "text-strong" }),
].join("");

/** Three strokes running down the hill, shorter and shorter, as an engraver marks a fall. */
function downhill(azimuthDeg: number): string {
  const strokes = el(
    "g",
    { transform: `rotate(${px(azimuthDeg)})`, class: "downhill" },
    el("path", { d: "M0 16V-16M-5-9L0-16L5-9M-9 10V-2M9 10V-2" }),
  );
  return strokes + textOf({ x: 24, y: 4, text: "downhill", kind: "text-ground" });
}

/** Alternating blocks over a round length, with 0 and the length written. */
export function scaleBar(x: number, y: number, pxPerFt: number, format: Format, longestPx: number): string {
  const pxPerUnit = pxPerFt / format.toLength(1);
  const length = roundLength(longestPx / pxPerUnit);
  const width = length * pxPerUnit;
  const blocks = [0, 1, 2, 3].map((i) =>
    el("rect", {
      class: i % 2 ? "bar-light" : "bar-dark",
      x: x + (width * i) / 4,
      y,
      width: width / 4,
      height: 6,
    }),
  );
  return [
    ...blocks,
    textOf({ x, y: y + 22, text: "0", size: "small" }),
    textOf({ x: x + width, y: y + 22, text: `${length} ${format.lengthUnit}`, size: "small", anchor: "end" }),
  ].join("");
}

function roundLength(longest: number): number {
  const power = 10 ** Math.floor(Math.log10(longest));
  const lead = longest / power;
  return power * (lead >= 8 ? 8 : lead >= 4 ? 4 : lead >= 2 ? 2 : 1);
}
