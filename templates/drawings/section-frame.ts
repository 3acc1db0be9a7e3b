/** Where a section lies on its sheet, and the ground in it: before, after, dug and filled. */
import type { Section } from "../../analysis/pictures/pictures.js";
import type { Format } from "../view/format.js";
import { SHEET_WIDTH } from "./drawing-frame.js";
import { type LabelField, labelField } from "./labels.js";
import { type PagePoint, pathThrough } from "./svg.js";

export const SIDE_PX = 58;
export const TOP_PX = 26;
export const UNDER_PX = 26;
export const FOOT_PX = 38;
/** Earth drawn under the lowest point. */
const EARTH_FT = 6;

export interface SectionView {
  readonly section: Section;
  readonly fromFt: number;
  readonly toFt: number;
  readonly lowFt: number;
  readonly pxPerFt: number;
  readonly height: number;
  readonly at: (atFt: number, elevFt: number) => PagePoint;
  readonly labels: LabelField;
  readonly format: Format;
}

/** Ground shown beyond everything that is built, dug or filled. */
const MARGIN_FT = 22;

/** The part of a section around the house. */
function closeRange(section: Section): [fromFt: number, toFt: number] {
  const last = section.stations.at(-1)?.atFt ?? 1;
  if (section.levels.length === 0) return [0, last];
  const marks = [
    ...section.levels.flatMap((level) => [level.fromFt, level.toFt]),
    ...section.temporary.map((t) => t.toFt),
    ...section.stations.filter((s) => s.designFt !== null).map((s) => s.atFt),
  ];
  return [Math.max(0, Math.min(...marks) - MARGIN_FT), Math.min(last, Math.max(...marks) + MARGIN_FT)];
}

export function closeSpanFt(section: Section): number {
  const [fromFt, toFt] = closeRange(section);
  return toFt - fromFt;
}

/** Fits the section, or the part around the house, to the sheet; `spanFt` sets the width so that several share a scale. */
export function frameSection(
  section: Section,
  format: Format,
  { close = false, spanFt }: { close?: boolean; spanFt?: number } = {},
): SectionView {
  let [fromFt, toFt] = close ? closeRange(section) : [0, section.stations.at(-1)?.atFt ?? 1];
  if (spanFt !== undefined) {
    const middle = (fromFt + toFt) / 2;
    [fromFt, toFt] = [middle - spanFt / 2, middle + spanFt / 2];
  }
  const shown = section.stations.filter((s) => s.atFt >= fromFt && s.atFt <= toFt);
  const heights = [
    ...shown.flatMap((s) => [s.groundFt, s.designFt]).filter((v) => v !== null),
    ...section.levels.flatMap((level) => [level.elevationFt, level.topFt]),
    ...section.walls.flatMap((wall) => [wall.topFt, wall.bottomFt]),
    ...(close ? section.piers.map((pier) => pier.bottomFt) : []),
  ];
  const lowFt = Math.min(...(heights.length ? heights : [0])) - EARTH_FT;
  const highFt = Math.max(...(heights.length ? heights : [10]));
  const pxPerFt = (SHEET_WIDTH - 2 * SIDE_PX) / Math.max(1, toFt - fromFt);
  const height = Math.ceil(TOP_PX + (highFt - lowFt) * pxPerFt + UNDER_PX + FOOT_PX);
  const bottom = height - FOOT_PX - UNDER_PX;
  return {
    section,
    fromFt,
    toFt,
    lowFt,
    pxPerFt,
    height,
    at: (atFt, elevFt) => [SIDE_PX + (atFt - fromFt) * pxPerFt, bottom - (elevFt - lowFt) * pxPerFt],
    labels: labelField(SHEET_WIDTH, height - FOOT_PX),
    format,
  };
}

type Station = Section["stations"][number];

/** Runs of stations where a height is known, cut to what is shown. */
function runs({ section, fromFt, toFt }: SectionView, known: (s: Station) => boolean): Station[][] {
  const found: Station[][] = [];
  let run: Station[] = [];
  for (const station of section.stations) {
    if (known(station) && station.atFt >= fromFt - 60 && station.atFt <= toFt + 60) run.push(station);
    else {
      if (run.length > 1) found.push(run);
      run = [];
    }
  }
  if (run.length > 1) found.push(run);
  return found;
}

export function groundPath(view: SectionView, key: "groundFt" | "designFt"): string {
  return runs(view, (s) => s[key] !== null)
    .map((run) => pathThrough(run.map((s) => view.at(s.atFt, s[key]!))))
    .join("");
}

/** Everything below finished ground. */
export function earthPath(view: SectionView): string {
  const base = view.lowFt - UNDER_PX / view.pxPerFt;
  return runs(view, (s) => s.groundFt !== null)
    .map((run) => {
      const top = run.map((s) => view.at(s.atFt, s.designFt ?? s.groundFt!));
      const [first, last] = [run[0]!, run.at(-1)!];
      return pathThrough([view.at(first.atFt, base), ...top, view.at(last.atFt, base)], true);
    })
    .join("");
}

/** Areas between natural and finished ground, dug or filled, split where they change over. */
export function gradedPieces(view: SectionView): { side: "cut" | "fill"; d: string }[] {
  const pieces: { side: "cut" | "fill"; d: string }[] = [];
  for (const run of runs(view, (s) => s.groundFt !== null && s.designFt !== null)) {
    let piece: Station[] = [];
    const flush = () => {
      if (piece.length > 1) {
        const depth = piece.reduce((sum, s) => sum + s.groundFt! - s.designFt!, 0);
        const d = pathThrough(
          [
            ...piece.map((s) => view.at(s.atFt, s.groundFt!)),
            ...piece.map((s) => view.at(s.atFt, s.designFt!)).reverse(),
          ],
          true,
        );
        pieces.push({ side: depth > 0 ? "cut" : "fill", d });
      }
    };
    for (const station of run) {
      const previous = piece.at(-1);
      const [before, now] = [
        previous ? previous.groundFt! - previous.designFt! : 0,
        station.groundFt! - station.designFt!,
      ];
      if (previous && before * now < 0) {
        const t = before / (before - now);
        const atFt = previous.atFt + (station.atFt - previous.atFt) * t;
        const level = previous.groundFt! + (station.groundFt! - previous.groundFt!) * t;
        const crossing = { atFt, groundFt: level, designFt: level };
        piece.push(crossing);
        flush();
        piece = [crossing];
      }
      piece.push(station);
    }
    flush();
  }
  return pieces;
}
