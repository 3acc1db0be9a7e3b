/** Plans of the whole lot: the client's, the slope bands, and the water. */
import type { Pictures, SchemePicture } from "../../analysis/pictures/pictures.js";
import type { Format } from "../view/format.js";
import { onSheet, planSheet, sheetFoot } from "./drawing-frame.js";
import * as label from "./plan-labels.js";
import * as layer from "./plan-layers.js";
import { drawing, el, type Picture } from "./svg.js";

export interface PlanWords {
  readonly id: string;
  readonly title: string;
  readonly words: string;
}

interface PlanInput {
  readonly pictures: Pictures;
  readonly scheme: SchemePicture | undefined;
  readonly format: Format;
  readonly downhillAzimuthDeg: number;
  readonly street: string;
}

/** Where the house wants to sit: few lines, few words. */
export function placePlan({ id, title, words }: PlanWords, input: PlanInput): Picture {
  const { pictures, scheme, format } = input;
  const sheet = planSheet(id, pictures.boundary, 52, 600);
  const drawnFt = pictures.contourIntervalFt * Math.max(1, Math.ceil(5 / pictures.contourIntervalFt));
  const streetDrawn = layer.street(sheet, pictures, input.street);
  if (scheme) label.houseLabel(sheet, scheme, "house");
  label.areaLabel(sheet, pictures.unsurveyed, "not surveyed", "text-quiet");
  label.contourLabels(sheet, pictures, drawnFt * 2, format);
  label.areaLabel(sheet, pictures.buildable, "ground left to build on", "text-build");
  const clipped = [
    layer.buildable(sheet, pictures),
    layer.unsurveyed(sheet, pictures),
    layer.contours(sheet, pictures, drawnFt, drawnFt * 2),
    layer.lotLine(sheet, pictures.boundary),
    streetDrawn,
    layer.trees(sheet, pictures),
    scheme ? layer.drive(sheet, scheme) + layer.walls(sheet, scheme) + layer.house(sheet, scheme) : "",
  ].join("");
  return drawing(
    id,
    title,
    words,
    sheet.width,
    sheet.height,
    onSheet(sheet, clipped, "") + sheetFoot(sheet, format, input.downhillAzimuthDeg),
  );
}

/** Steepness in bands, darker and closer hatched where steeper, with every contour. */
export function slopePlan({ id, title, words }: PlanWords, input: PlanInput): Picture {
  const { pictures, format } = input;
  const sheet = planSheet(id, pictures.boundary);
  const indexFt = layer.indexIntervalFt(pictures.contourIntervalFt);
  const streetDrawn = layer.street(sheet, pictures, input.street);
  label.areaLabel(sheet, pictures.unsurveyed, "not surveyed", "text-quiet");
  label.contourLabels(sheet, pictures, indexFt, format);
  const bands = pictures.slopeBands.map(({ polygons }, i) =>
    layer.area(sheet, polygons, "band", `url(#band-${bandTone(i, pictures.slopeBands.length)})`),
  );
  const clipped = [
    ...bands,
    layer.unsurveyed(sheet, pictures),
    layer.contours(sheet, pictures, pictures.contourIntervalFt, indexFt),
    layer.lotLine(sheet, pictures.boundary),
    streetDrawn,
  ].join("");
  return drawing(
    id,
    title,
    words,
    sheet.width,
    sheet.height,
    onSheet(sheet, clipped, "") + sheetFoot(sheet, format, input.downhillAzimuthDeg),
  );
}

/** Tones from 0 (palest) to 6 (darkest), spread over however many bands there are. */
export function bandTone(index: number, count: number): number {
  return count <= 1 ? 0 : Math.min(6, Math.round((index * 6) / (count - 1)));
}

/** What the rules leave: setbacks, easements, trees, steep ground taken away. */
export function buildablePlan({ id, title, words }: PlanWords, input: PlanInput): Picture {
  const { pictures, format } = input;
  const sheet = planSheet(id, pictures.boundary);
  const indexFt = layer.indexIntervalFt(pictures.contourIntervalFt);
  const streetDrawn = layer.street(sheet, pictures, input.street);
  label.areaLabel(sheet, pictures.buildable, "ground left to build on", "text-build");
  label.areaLabel(sheet, pictures.unsurveyed, "not surveyed", "text-quiet");
  for (const { name, kind, polygons } of pictures.noBuild)
    if (kind !== "tree") label.areaLabel(sheet, polygons, name, "text-quiet");
  label.contourLabels(sheet, pictures, indexFt, format);
  const clipped = [
    layer.buildable(sheet, pictures),
    layer.noBuild(sheet, pictures),
    layer.unsurveyed(sheet, pictures),
    layer.contours(sheet, pictures, indexFt, indexFt),
    layer.setbackLine(sheet, pictures),
    layer.lotLine(sheet, pictures.boundary),
    streetDrawn,
    layer.trees(sheet, pictures),
  ].join("");
  return drawing(
    id,
    title,
    words,
    sheet.width,
    sheet.height,
    onSheet(sheet, clipped, "") + sheetFoot(sheet, format, input.downhillAzimuthDeg),
  );
}

/** Ground that sheds onto the house, lines of running water, ditch and drains. */
export function waterPlan({ id, title, words }: PlanWords, input: PlanInput): Picture {
  const { pictures, scheme, format } = input;
  const sheet = planSheet(id, pictures.boundary);
  const indexFt = layer.indexIntervalFt(pictures.contourIntervalFt);
  const streetDrawn = layer.street(sheet, pictures, input.street);
  if (scheme) label.houseLabel(sheet, scheme, "house");
  if (scheme) label.areaLabel(sheet, scheme.catchment, "sheds onto the house", "text-water");
  label.contourLabels(sheet, pictures, indexFt, format);
  const clipped = [
    scheme ? layer.area(sheet, scheme.catchment, "sheds", "url(#sheds)") : "",
    layer.unsurveyed(sheet, pictures),
    layer.contours(sheet, pictures, indexFt, indexFt),
    layer.lotLine(sheet, pictures.boundary),
    streetDrawn,
    ...pictures.water.streams.map((stream) => layer.line(sheet, stream.line, "stream")),
    ...pictures.water.depressions.map((hollow) => {
      const [cx, cy] = sheet.toPage(hollow.at);
      return el("circle", { class: "hollow", cx, cy, r: 6 });
    }),
    scheme ? layer.drive(sheet, scheme, false) + layer.house(sheet, scheme) : "",
    scheme ? layer.line(sheet, scheme.overflow ?? [], "overflow") : "",
    scheme ? layer.line(sheet, scheme.swale, "ditch") : "",
    ...(scheme?.crossings ?? []).map((place) => {
      const [cx, cy] = sheet.toPage(place);
      return el("circle", { class: "crossing", cx, cy, r: 5 });
    }),
    ...(scheme?.drains ?? []).map((drain) =>
      layer.line(sheet, drain.route, drain.gravity ? "drain" : "drain-pumped"),
    ),
    ...(scheme?.drains ?? []).flatMap((drain) => {
      const end = drain.route.at(-1);
      if (!end || !drain.gravity) return [];
      const [cx, cy] = sheet.toPage(end);
      return [el("circle", { class: "outlet", cx, cy, r: 3.4 })];
    }),
  ].join("");
  return drawing(
    id,
    title,
    words,
    sheet.width,
    sheet.height,
    onSheet(sheet, clipped, "") + sheetFoot(sheet, format, input.downhillAzimuthDeg),
  );
}
