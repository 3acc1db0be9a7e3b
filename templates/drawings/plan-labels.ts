/** Words on plans: heights along contours, names of areas, the house. */
import {
  boxOf,
  distanceToRingFt,
  type MultiPolygon,
  ringContains,
  signedAreaFt2,
} from "../../analysis/geometry/plane.js";
import type { Pictures, SchemePicture } from "../../analysis/pictures/pictures.js";
import type { Format } from "../view/format.js";
import type { Sheet } from "./drawing-frame.js";
import { around, cornersOf, type Label } from "./labels.js";
import { isMultiple } from "./plan-layers.js";
import type { PagePoint } from "./svg.js";

/** Writes heights along the heavy contours, uphill side up, where there is room. */
export function contourLabels(sheet: Sheet, pictures: Pictures, indexFt: number, format: Format): void {
  for (const { elevFt, lines } of pictures.contours) {
    if (!isMultiple(elevFt, indexFt, pictures.contourIntervalFt)) continue;
    const page = lines.map((points) => points.map(sheet.toPage)).sort((a, b) => lengthOf(b) - lengthOf(a))[0];
    if (!page || lengthOf(page) < 60) continue;
    const text = format.contour(elevFt);
    const candidates = [0.14, 0.86, 0.3, 0.7, 0.5].flatMap((share): Label[] => {
      const at = pointAt(page, share);
      return at
        ? [
            {
              x: at.x,
              y: at.y + 4,
              text,
              size: "small",
              anchor: "middle",
              turnDeg: at.turnDeg,
              kind: "text-ground",
            },
          ]
        : [];
    });
    sheet.labels.place(candidates);
  }
}

function lengthOf(page: readonly PagePoint[]): number {
  let sum = 0;
  for (let i = 1; i < page.length; i++)
    sum += Math.hypot(page[i]![0] - page[i - 1]![0], page[i]![1] - page[i - 1]![1]);
  return sum;
}

/** A place a share of the way along a line, with the reading direction of text laid on it. */
export function pointAt(
  page: readonly PagePoint[],
  share: number,
): { x: number; y: number; turnDeg: number } | undefined {
  let left = lengthOf(page) * share;
  for (let i = 1; i < page.length; i++) {
    const [ax, ay] = page[i - 1]!;
    const [bx, by] = page[i]!;
    const piece = Math.hypot(bx - ax, by - ay);
    if (left > piece || piece === 0) {
      left -= piece;
      continue;
    }
    const turn = (Math.atan2(by - ay, bx - ax) * 180) / Math.PI;
    const turnDeg = turn > 90 ? turn - 180 : turn <= -90 ? turn + 180 : turn;
    return { x: ax + ((bx - ax) * left) / piece, y: ay + ((by - ay) * left) / piece, turnDeg };
  }
  return undefined;
}

/** Words inside the footprint where they fit, beside it where not. */
export function houseLabel(sheet: Sheet, scheme: SchemePicture, word: string): void {
  const main = scheme.levels.find((level) => level.role === "house") ?? scheme.levels[0];
  const ring = (main?.ring ?? scheme.footprint).map(sheet.toPage);
  const box = boxOf(ring);
  const x = (box.minEastFt + box.maxEastFt) / 2;
  const y = (box.minNorthFt + box.maxNorthFt) / 2;
  const corners = [-1, 1].flatMap((u) =>
    [-1, 1].map((v): PagePoint => [x + (u * HOUSE_WORD_PX[0]) / 2, y + (v * HOUSE_WORD_PX[1]) / 2]),
  );
  if (corners.every((corner) => ringContains(ring, corner)))
    sheet.labels.place([{ x, y: y + 5, text: word, anchor: "middle", kind: "text-on-dark" }]);
  else
    sheet.labels.place([
      { x, y: box.minNorthFt - 12, text: word, anchor: "middle", kind: "text-strong" },
      { x, y: box.maxNorthFt + 26, text: word, anchor: "middle", kind: "text-strong" },
      ...around(box.maxEastFt, y, word, { kind: "text-strong" }),
      ...around(box.minEastFt, y, word, { kind: "text-strong" }),
    ]);
  sheet.labels.avoid({ x0: box.minEastFt, y0: box.minNorthFt, x1: box.maxEastFt, y1: box.maxNorthFt });
}

/** Room the word takes on a phone, in drawing units. */
const HOUSE_WORD_PX = [58, 18] as const;

/** Writes a word into the largest polygon, as far from its edges as can be, where it lies inside on any page; the legend says it too. */
export function areaLabel(sheet: Sheet, polygons: MultiPolygon, text: string, kind?: string): void {
  const rings = polygons.map((polygon) => polygon[0]!.map(sheet.toPage));
  const ring = rings.sort((a, b) => Math.abs(signedAreaFt2(b)) - Math.abs(signedAreaFt2(a)))[0];
  if (!ring || Math.abs(signedAreaFt2(ring)) < SMALLEST_LABELLED_PX2) return;
  const labels = insidePoints(ring)
    .sort((a, b) => b.edgePx - a.edgePx)
    .map(
      ({ x, y }): Label => ({
        x,
        y: y + 4,
        text,
        anchor: "middle",
        size: "small",
        ...(kind ? { kind } : {}),
      }),
    )
    .filter((label) => cornersOf(label).every((corner) => ringContains(ring, corner)));
  sheet.labels.place(labels.slice(0, 8));
}

/** Areas smaller than about three words are left to the legend. */
const SMALLEST_LABELLED_PX2 = 1500;
const TRIED_ACROSS = 9;

function insidePoints(ring: readonly PagePoint[]): { x: number; y: number; edgePx: number }[] {
  const box = boxOf(ring);
  const found: { x: number; y: number; edgePx: number }[] = [];
  for (let i = 1; i < TRIED_ACROSS; i++)
    for (let j = 1; j < TRIED_ACROSS; j++) {
      const x = box.minEastFt + ((box.maxEastFt - box.minEastFt) * i) / TRIED_ACROSS;
      const y = box.minNorthFt + ((box.maxNorthFt - box.minNorthFt) * j) / TRIED_ACROSS;
      if (ringContains(ring, [x, y])) found.push({ x, y, edgePx: distanceToRingFt(ring, [x, y]) });
    }
  return found;
}
