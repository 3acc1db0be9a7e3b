/** The layers plans are built from; each is a string of SVG on a given sheet. */
import {
  boxOf,
  distanceToRingFt,
  type MultiPolygon,
  type Point,
  type Ring,
  ringContains,
  signedAreaFt2,
} from "../../analysis/geometry/plane.js";
import type { Pictures, SchemePicture } from "../../analysis/pictures/pictures.js";
import type { Format } from "../view/format.js";
import type { Sheet } from "./drawing-frame.js";
import { around, type Label } from "./labels.js";
import { areaPath, el, linePath, type PagePoint, px } from "./svg.js";

export function area(sheet: Sheet, polygons: MultiPolygon, className: string, fill?: string): string {
  const d = areaPath(polygons, sheet.toPage);
  return d ? el("path", { class: className, fill, d, "fill-rule": "evenodd" }) : "";
}

export function line(sheet: Sheet, points: Parameters<typeof linePath>[0], className: string): string {
  return points.length > 1 ? el("path", { class: className, d: linePath(points, sheet.toPage) }) : "";
}

export function lotLine(sheet: Sheet, boundary: Ring): string {
  const pins = boundary.map((corner) => {
    const [cx, cy] = sheet.toPage(corner);
    return el("circle", { class: "lot-pin", cx, cy, r: 2.6 });
  });
  return area(sheet, [[boundary]], "lot-line") + pins.join("");
}

/** Paper laid over what lies outside the lot, so that the lot stands out. */
export function outsideVeil(sheet: Sheet, boundary: Ring): string {
  const { width, mapBottom } = sheet;
  return el("path", {
    class: "veil",
    "fill-rule": "evenodd",
    d: `M0 0H${px(width)}V${px(mapBottom)}H0Z${areaPath([[boundary]], sheet.toPage)}`,
  });
}

export function unsurveyed(sheet: Sheet, pictures: Pictures): string {
  return area(sheet, pictures.unsurveyed, "unsurveyed", "url(#not-surveyed)");
}

export function noBuild(sheet: Sheet, pictures: Pictures): string {
  return pictures.noBuild
    .map(({ kind, polygons }) =>
      kind === "tree"
        ? area(sheet, polygons, "tree-room")
        : area(sheet, polygons, "no-build", "url(#no-build)"),
    )
    .join("");
}

export function setbackLine(sheet: Sheet, pictures: Pictures): string {
  return area(sheet, pictures.insideSetbacks, "setback-line");
}

export function buildable(sheet: Sheet, pictures: Pictures): string {
  return area(sheet, pictures.buildable, "build-ground", "url(#build-ground)");
}

/** Contours, every `indexFt` one heavier; `drawnFt` leaves out those between. */
export function contours(sheet: Sheet, pictures: Pictures, drawnFt: number, indexFt: number): string {
  const d = { thin: "", heavy: "" };
  for (const { elevFt, lines } of pictures.contours) {
    if (!isMultiple(elevFt, drawnFt)) continue;
    const weight = isMultiple(elevFt, indexFt) ? "heavy" : "thin";
    for (const points of lines) d[weight] += linePath(points, sheet.toPage);
  }
  return [
    d.thin && el("path", { class: "contour", d: d.thin }),
    d.heavy && el("path", { class: "contour-heavy", d: d.heavy }),
  ].join("");
}

/** Writes heights along the heavy contours, uphill side up, where there is room. */
export function contourLabels(sheet: Sheet, pictures: Pictures, indexFt: number, format: Format): void {
  for (const { elevFt, lines } of pictures.contours) {
    if (!isMultiple(elevFt, indexFt)) continue;
    const page = lines.map((points) => points.map(sheet.toPage)).sort((a, b) => lengthOf(b) - lengthOf(a))[0];
    if (!page || lengthOf(page) < 60) continue;
    const text = format.number(format.toLength(elevFt), format.metric ? 0.1 : 1);
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

export function indexIntervalFt(intervalFt: number): number {
  return intervalFt * 5;
}

function isMultiple(value: number, step: number): boolean {
  return Math.abs(value / step - Math.round(value / step)) < 1e-6;
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

export function trees(sheet: Sheet, pictures: Pictures): string {
  return pictures.features
    .filter((feature) => feature.kind === "tree")
    .map(({ at, trunkIn }) => {
      const [x, y] = sheet.toPage(at);
      const r = Math.min(7, 3 + (trunkIn ?? 12) / 10);
      return el(
        "g",
        { class: "tree", transform: `translate(${px(x)} ${px(y)})` },
        `${el("circle", { r })}${el("path", { d: `M0 ${px(-r)}V${px(r)}M${px(-r)} 0H${px(r)}` })}`,
      );
    })
    .join("");
}

/** Kerb line outside each frontage edge, and an arrow where the car enters. */
export function street(sheet: Sheet, pictures: Pictures, name: string): string {
  const drawn: string[] = [];
  const fronts: Label[] = [];
  pictures.boundary.forEach((corner, i) => {
    if (!pictures.edges[i]?.frontage) return;
    const [ax, ay] = sheet.toPage(corner);
    const [bx, by] = sheet.toPage(pictures.boundary[(i + 1) % pictures.boundary.length]!);
    const length = Math.hypot(bx - ax, by - ay) || 1;
    // The ring runs counter-clockwise, so on the page (y down) outside lies to the left of travel turned down.
    const [ox, oy] = [-(by - ay) / length, (bx - ax) / length];
    drawn.push(
      el("path", {
        class: "kerb",
        d: `M${px(ax + ox * 12)} ${px(ay + oy * 12)}L${px(bx + ox * 12)} ${px(by + oy * 12)}`,
      }),
    );
    const turn = (Math.atan2(by - ay, bx - ax) * 180) / Math.PI;
    const turnDeg = turn > 90 ? turn - 180 : turn <= -90 ? turn + 180 : turn;
    for (const share of [0.5, 0.3, 0.7, 0.15, 0.85])
      fronts.push({
        x: ax + (bx - ax) * share + ox * 26,
        y: ay + (by - ay) * share + oy * 26 + 4,
        text: name,
        anchor: "middle",
        turnDeg,
        kind: "text-street",
      });
  });
  if (fronts.length) sheet.labels.place(fronts);
  return drawn.join("");
}

export function drive(sheet: Sheet, scheme: SchemePicture, entry: Point | null): string {
  if (!scheme.drive) return "";
  const arrow = entry ? entryArrow(sheet, entry, scheme.drive.line[1] ?? scheme.drive.line[0]) : "";
  return (
    area(sheet, scheme.drive.footprint, "drive") + line(sheet, scheme.drive.line, "drive-middle") + arrow
  );
}

function entryArrow(sheet: Sheet, entry: Point, towards: readonly number[] | undefined): string {
  if (!towards) return "";
  const [x, y] = sheet.toPage(entry);
  const [tx, ty] = sheet.toPage([towards[0]!, towards[1]!]);
  const turn = (Math.atan2(ty - y, tx - x) * 180) / Math.PI;
  return el("path", {
    class: "entry",
    transform: `translate(${px(x)} ${px(y)}) rotate(${px(turn)})`,
    d: "M-12-6L0 0L-12 6L-9 0Z",
  });
}

/** Roofless footprints: house dark, garage lined, basement as the house above it. */
export function house(sheet: Sheet, scheme: SchemePicture): string {
  const order = { basement: 0, garage: 1, house: 2 } as const;
  return [...scheme.levels]
    .sort((a, b) => order[a.role] - order[b.role])
    .map((level) => area(sheet, [[level.ring]], level.role === "garage" ? "garage" : "house"))
    .join("");
}

export function walls(sheet: Sheet, scheme: SchemePicture): string {
  return scheme.walls
    .filter((wall) => wall.kind === "site")
    .map((wall) => line(sheet, wall.line, "wall") + line(sheet, wall.line, "wall-stones"))
    .join("");
}

/** Words inside the footprint where they fit, beside it where not. */
export function houseLabel(sheet: Sheet, scheme: SchemePicture, inside: string, beside: string): void {
  const main = scheme.levels.find((level) => level.role === "house") ?? scheme.levels[0];
  const box = boxOf((main?.ring ?? scheme.footprint).map(sheet.toPage));
  const x = (box.minEastFt + box.maxEastFt) / 2;
  const y = (box.minNorthFt + box.maxNorthFt) / 2;
  const roomy = box.maxEastFt - box.minEastFt > 74 && box.maxNorthFt - box.minNorthFt > 26;
  if (roomy) sheet.labels.place([{ x, y: y + 5, text: inside, anchor: "middle", kind: "text-on-dark" }]);
  const reach = 12;
  sheet.labels.avoid({ x0: box.minEastFt, y0: box.minNorthFt, x1: box.maxEastFt, y1: box.maxNorthFt });
  if (!roomy || beside)
    sheet.labels.place([
      { x, y: box.minNorthFt - reach, text: beside || inside, anchor: "middle", kind: "text-strong" },
      { x, y: box.maxNorthFt + reach + 14, text: beside || inside, anchor: "middle", kind: "text-strong" },
      ...around(box.maxEastFt, y, beside || inside, { kind: "text-strong" }),
      ...around(box.minEastFt, y, beside || inside, { kind: "text-strong" }),
    ]);
}

/** Writes a word into the largest polygon, as far from its edges as can be, if there is room. */
export function areaLabel(sheet: Sheet, polygons: MultiPolygon, text: string, kind?: string): void {
  const rings = polygons.map((polygon) => polygon[0]!.map(sheet.toPage));
  const ring = rings.sort((a, b) => Math.abs(signedAreaFt2(b)) - Math.abs(signedAreaFt2(a)))[0];
  if (!ring || Math.abs(signedAreaFt2(ring)) < SMALLEST_LABELLED_PX2) return;
  const places = insidePoints(ring)
    .sort((a, b) => b.edgePx - a.edgePx)
    .slice(0, 8);
  sheet.labels.place(
    places.map(({ x, y }) => ({
      x,
      y: y + 4,
      text,
      anchor: "middle" as const,
      size: "small" as const,
      ...(kind ? { kind } : {}),
    })),
  );
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
