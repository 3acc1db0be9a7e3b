/** A plan of the lot small enough for a list: lot line, ground left to build on, house and drive, no words. */
import { boxOf } from "../../analysis/geometry/plane.js";
import type { Pictures } from "../../analysis/pictures/pictures.js";
import { areaPath, el, linePath, type PagePoint } from "../drawings/svg.js";

const SIZE_PX = 120;
const MARGIN_PX = 6;

/**
 * Scales to whatever box it is put in. `data-width-ft` holds the ground width of the drawing, so that
 * several can be shown at one scale.
 */
export function thumbnailPlan(pictures: Pictures, schemeId: string | null): string {
  const box = boxOf(pictures.boundary);
  const sizeFt = Math.max(box.maxEastFt - box.minEastFt, box.maxNorthFt - box.minNorthFt);
  const pxPerFt = (SIZE_PX - 2 * MARGIN_PX) / sizeFt;
  const width = (box.maxEastFt - box.minEastFt) * pxPerFt + 2 * MARGIN_PX;
  const height = (box.maxNorthFt - box.minNorthFt) * pxPerFt + 2 * MARGIN_PX;
  const toPage = ([east, north]: readonly [number, number]): PagePoint => [
    MARGIN_PX + (east - box.minEastFt) * pxPerFt,
    height - MARGIN_PX - (north - box.minNorthFt) * pxPerFt,
  ];
  const scheme = pictures.schemes.find(({ id }) => id === schemeId);
  const everyOther = pictures.contours.filter((_, i) => i % 2 === 0);
  const body = [
    el("path", { class: "mini-lot", d: areaPath([[pictures.boundary]], toPage) }),
    el("path", {
      class: "mini-contour",
      d: everyOther.flatMap(({ lines }) => lines.map((l) => linePath(l, toPage))).join(""),
    }),
    el("path", { class: "mini-build", "fill-rule": "evenodd", d: areaPath(pictures.buildable, toPage) }),
    scheme?.drive ? el("path", { class: "mini-drive", d: linePath(scheme.drive.line, toPage) }) : "",
    scheme ? el("path", { class: "mini-house", d: areaPath([[scheme.footprint]], toPage) }) : "",
    el("path", { class: "mini-line", d: areaPath([[pictures.boundary]], toPage) }),
  ];
  return el(
    "svg",
    {
      class: "mini-plan",
      viewBox: `0 0 ${width.toFixed(1)} ${height.toFixed(1)}`,
      "aria-hidden": "true",
      "data-width-ft": (width / pxPerFt).toFixed(1),
      "data-height-ft": (height / pxPerFt).toFixed(1),
    },
    body.join(""),
  );
}
