/** Close-up of one scheme: how deep it cuts, how high it fills, where walls stand. */
import type { Point } from "../../analysis/geometry/plane.js";
import type { Pictures, SchemePicture } from "../../analysis/pictures/pictures.js";
import type { Format } from "../view/format.js";
import { onSheet, planSheet, type Sheet, sheetFoot } from "./drawing-frame.js";
import { around, type Label } from "./labels.js";
import * as label from "./plan-labels.js";
import * as layer from "./plan-layers.js";
import type { PlanWords } from "./site-plan.js";
import { drawing, el, type PagePoint, type Picture, px } from "./svg.js";

/** Natural ground shown around what is graded. */
const AROUND_FT = 18;
/** Lower walls are drawn, not named. */
const LOWEST_NAMED_FT = 2;

export function earthPlan(
  { id, title, words }: PlanWords,
  pictures: Pictures,
  scheme: SchemePicture,
  format: Format,
): Picture {
  const sheet = planSheet(id, within(closeUp(scheme), pictures.boundary), 22, 560);
  const indexFt = layer.indexIntervalFt(pictures.contourIntervalFt);
  levelLabels(sheet, scheme, format);
  wallLabels(sheet, scheme, format);
  depthLabels(sheet, scheme, format);
  label.contourLabels(sheet, pictures, indexFt, format);
  const clipped = [
    layer.area(sheet, scheme.cut, "cut", "url(#cut)"),
    layer.area(sheet, scheme.fill, "fill", "url(#fill)"),
    ...scheme.depthSteps.map(({ side, polygons }) => layer.area(sheet, polygons, `${side}-step`)),
    layer.contours(sheet, pictures, pictures.contourIntervalFt, indexFt),
    layer.area(sheet, [[scheme.outline]], "pad-edge"),
    scheme.temporary ? layer.area(sheet, [scheme.temporary], "temporary") : "",
    layer.setbackLine(sheet, pictures),
    layer.lotLine(sheet, pictures.boundary),
    layer.drive(sheet, scheme),
    ...scheme.levels.map((level) =>
      layer.area(sheet, [[level.ring]], level.role === "garage" ? "garage-outline" : "house-outline"),
    ),
    ...(scheme.drive?.tooTight ?? []).map((place) => {
      const [x, y] = sheet.toPage(place);
      return el("path", { class: "too-tight", d: `M${px(x - 6)} ${px(y - 6)}l12 12m0-12l-12 12` });
    }),
    layer.walls(sheet, scheme),
    ...scheme.piers.map((pier) => {
      const [cx, cy] = sheet.toPage(pier);
      return el("circle", { class: "pier", cx, cy, r: 2.4 });
    }),
    ...scheme.wells.map((well) => {
      const [x, y] = sheet.toPage(well.at);
      return el("rect", { class: "well", x: x - 6, y: y - 5, width: 12, height: 10 });
    }),
  ].join("");
  return drawing(
    id,
    title,
    words,
    sheet.width,
    sheet.height,
    onSheet(sheet, clipped, "") + sheetFoot(sheet, format),
  );
}

function closeUp(scheme: SchemePicture): Point[] {
  const points: Point[] = [...scheme.outline, ...scheme.footprint, scheme.garageAt];
  for (const polygon of [...scheme.cut, ...scheme.fill, ...(scheme.drive?.footprint ?? [])])
    points.push(...(polygon[0] ?? []));
  for (const wall of scheme.walls) points.push(...wall.line);
  for (const ring of scheme.temporary ?? []) points.push(...ring);
  return points.flatMap(([x, y]): Point[] => [
    [x - AROUND_FT, y - AROUND_FT],
    [x + AROUND_FT, y + AROUND_FT],
  ]);
}

/** Keeps the close-up from showing much beyond the lot. */
function within(points: readonly Point[], boundary: readonly Point[]): Point[] {
  const xs = boundary.map((p) => p[0]);
  const ys = boundary.map((p) => p[1]);
  const clamp = (v: number, all: number[]) =>
    Math.min(Math.max(v, Math.min(...all) - AROUND_FT), Math.max(...all) + AROUND_FT);
  return points.map(([x, y]) => [clamp(x, xs), clamp(y, ys)]);
}

function levelLabels(sheet: Sheet, scheme: SchemePicture, format: Format): void {
  for (const level of scheme.levels) {
    if (level.role === "basement" && scheme.levels.some((other) => other.role === "house")) continue;
    const page = level.ring.map(sheet.toPage);
    const [x, y] = meanOf(page);
    const name = level.role === "garage" ? "garage" : "house";
    const full = `${name}, floor ${format.elevation(level.floorElevationFt)}`;
    sheet.labels.place([
      { x, y, text: full, anchor: "middle", kind: "text-strong" },
      { x, y: y + 26, text: full, anchor: "middle", kind: "text-strong" },
      { x, y, text: name, anchor: "middle", kind: "text-strong" },
      ...around(x, y, name, { kind: "text-strong" }, 20),
    ]);
  }
}

/** The tallest wall of each side says how much it holds, written away from the house; the table names the rest. */
function wallLabels(sheet: Sheet, scheme: SchemePicture, format: Format): void {
  const [cx, cy] = meanOf(scheme.footprint.map(sheet.toPage));
  const tallest = new Map<string, SchemePicture["walls"][number]>();
  for (const wall of scheme.walls)
    if (wall.kind === "site" && wall.retainedFt > (tallest.get(wall.where)?.retainedFt ?? LOWEST_NAMED_FT))
      tallest.set(wall.where, wall);
  for (const wall of tallest.values()) {
    const line = wall.line.map(sheet.toPage);
    const text = `wall ${format.length(wall.retainedFt, 0.5)}`;
    sheet.labels.place(
      [0.5, 0.25, 0.75, 0.05, 0.95].flatMap((share) => {
        const at = label.pointAt(line, share);
        if (!at) return [];
        const away = Math.hypot(at.x - cx, at.y - cy) || 1;
        const [ox, oy] = [(at.x - cx) / away, (at.y - cy) / away];
        const anchor = ox > 0.5 ? "start" : ox < -0.5 ? "end" : "middle";
        return OFF_WALL_PX.map(
          (off): Label => ({ x: at.x + ox * off, y: at.y + oy * off + 5, text, anchor, kind: "text-strong" }),
        );
      }),
    );
  }
}

const OFF_WALL_PX = [14, 24, 38] as const;

function meanOf(points: readonly PagePoint[]): PagePoint {
  const sum = points.reduce(([x, y], p) => [x + p[0], y + p[1]] as const, [0, 0] as PagePoint);
  return [sum[0] / points.length, sum[1] / points.length];
}

/** The deepest outline of each side says how deep. */
function depthLabels(sheet: Sheet, scheme: SchemePicture, format: Format): void {
  for (const side of ["cut", "fill"] as const) {
    const deepest = scheme.depthSteps.filter((step) => step.side === side).at(-1);
    const word = side === "cut" ? "dug" : "filled";
    if (deepest)
      label.areaLabel(
        sheet,
        deepest.polygons,
        `${word} over ${format.typed(deepest.depthFt)}`,
        `text-${side}`,
      );
    else label.areaLabel(sheet, scheme[side], word, `text-${side}`);
  }
}
