/** The layers plans are built from; each is a string of SVG on a given sheet. */
import type { MultiPolygon, Point, Ring } from "../../analysis/geometry/plane.js";
import type { Pictures, SchemePicture } from "../../analysis/pictures/pictures.js";
import type { Sheet } from "./drawing-frame.js";
import type { Label } from "./labels.js";
import { areaPath, el, linePath, px } from "./svg.js";

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
    if (!isMultiple(elevFt, drawnFt, pictures.contourIntervalFt)) continue;
    const weight = isMultiple(elevFt, indexFt, pictures.contourIntervalFt) ? "heavy" : "thin";
    for (const points of lines) d[weight] += linePath(points, sheet.toPage);
  }
  return [
    d.thin && el("path", { class: "contour", d: d.thin }),
    d.heavy && el("path", { class: "contour-heavy", d: d.heavy }),
  ].join("");
}

export function indexIntervalFt(intervalFt: number): number {
  return intervalFt * 5;
}

/** Counted in contour intervals: heights and an interval of half a meter are written in rounded feet. */
export function isMultiple(elevFt: number, stepFt: number, intervalFt: number): boolean {
  return Math.round(elevFt / intervalFt) % Math.round(stepFt / intervalFt) === 0;
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

/** The paved band, the leg a car backs into, and an arrow where it leaves the street. */
export function drive(sheet: Sheet, scheme: SchemePicture, arrow = true): string {
  if (!scheme.drive) return "";
  const { footprint, turnaround, line: middle } = scheme.drive;
  const [first, second] = middle;
  return [
    turnaround ? area(sheet, [[turnaround]], "drive") : "",
    area(sheet, footprint, "drive"),
    line(sheet, middle, "drive-middle"),
    arrow && first && second ? entryArrow(sheet, [first[0], first[1]], second) : "",
  ].join("");
}

function entryArrow(sheet: Sheet, entry: Point, towards: readonly number[]): string {
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
