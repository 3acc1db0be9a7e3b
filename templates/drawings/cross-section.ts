/** Ground and house cut open along a line, the same scale up and across: exaggerated hills mislead. */
import type { Section } from "../../analysis/pictures/pictures.js";
import type { Format } from "../view/format.js";
import { SHEET_WIDTH, scaleBar } from "./drawing-frame.js";
import { around, type LabelField, labelField } from "./labels.js";
import { drawing, el, type PagePoint, type Picture, pathThrough } from "./svg.js";

const SIDE_PX = 46;
const TOP_PX = 26;
const UNDER_PX = 26;
const FOOT_PX = 38;
/** Earth drawn under the lowest point. */
const EARTH_FT = 6;
/** Lower walls are drawn, not named. */
const LOWEST_NAMED_FT = 2;

interface View {
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

export interface SectionWords {
  readonly id: string;
  readonly title: string;
  readonly words: string;
  /** What lies at the two ends: "uphill", "downhill". */
  readonly ends: readonly [string, string];
}

/** `close` shows the house and its surroundings instead of the whole lot; `plain` leaves out drains, wells, piers and heights. */
export function crossSection(
  { id, title, words, ends }: SectionWords,
  section: Section,
  format: Format,
  { close = false, plain = false }: { close?: boolean; plain?: boolean } = {},
): Picture {
  const view = frame(section, format, close);
  const { height, labels } = view;
  const graded = gradedPieces(view);
  const inside = [
    el("path", { class: "earth", d: earthPath(view) }),
    ...graded.map(({ side, d }) => el("path", { class: side, fill: `url(#${side})`, d })),
    plain ? "" : heightLines(view),
    lotLines(view),
    ...section.temporary.map((t) =>
      el("path", {
        class: "temporary",
        d: pathThrough([view.at(t.fromFt, t.fromElevFt), view.at(t.toFt, t.toElevFt)]),
      }),
    ),
    plain ? "" : piers(view),
    levels(view, plain),
    walls(view, plain),
    plain ? "" : wells(view),
    el("path", { class: graded.length ? "ground-before" : "ground-line", d: groundPath(view, "groundFt") }),
    el("path", { class: "ground-line", d: groundPath(view, "designFt") }),
    plain ? "" : drains(view),
  ].join("");
  endLabels(view, ends);
  groundLabel(view, graded.length > 0);
  const clip = el(
    "clipPath",
    { id: `${id}-map` },
    el("rect", { x: 0, y: 0, width: SHEET_WIDTH, height: height - FOOT_PX }),
  );
  const foot = scaleBar(SIDE_PX, height - FOOT_PX + 8, view.pxPerFt, format, SHEET_WIDTH * 0.3);
  const body = `${clip}${el("g", { "clip-path": `url(#${id}-map)` }, inside)}${labels.svg()}${foot}`;
  return drawing(id, title, words, SHEET_WIDTH, height, body);
}

function frame(section: Section, format: Format, close: boolean): View {
  const last = section.stations.at(-1)?.atFt ?? 1;
  let [fromFt, toFt] = [0, last];
  if (close && section.levels.length > 0) {
    const marks = [
      ...section.levels.flatMap((level) => [level.fromFt, level.toFt]),
      ...section.temporary.map((t) => t.toFt),
      ...section.stations.filter((s) => s.designFt !== null).map((s) => s.atFt),
    ];
    const marginFt = 22;
    fromFt = Math.max(0, Math.min(...marks) - marginFt);
    toFt = Math.min(last, Math.max(...marks) + marginFt);
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
function runs({ section, fromFt, toFt }: View, known: (s: Station) => boolean): Station[][] {
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

function groundPath(view: View, key: "groundFt" | "designFt"): string {
  return runs(view, (s) => s[key] !== null)
    .map((run) => pathThrough(run.map((s) => view.at(s.atFt, s[key]!))))
    .join("");
}

/** Everything below finished ground. */
function earthPath(view: View): string {
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
function gradedPieces(view: View): { side: "cut" | "fill"; d: string }[] {
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

function levels({ section, at, labels, pxPerFt }: View, plain: boolean): string {
  const named = new Set<string>();
  const order = { garage: 0, basement: 1, house: 2 } as const;
  return [...section.levels]
    .sort((a, b) => order[a.role] - order[b.role])
    .map((level) => {
      const [x0, yTop] = at(level.fromFt, level.topFt);
      const [x1, yBottom] = at(level.toFt, level.floorFt);
      const [, yPad] = at(level.fromFt, level.elevationFt);
      const word = level.role === "house" ? "house" : level.role;
      const room = x1 - x0 > 60 && yBottom - yTop > 22;
      const label = {
        x: (x0 + x1) / 2,
        y: (yTop + yBottom) / 2 + 5,
        text: word,
        anchor: "middle" as const,
        kind: "text-strong",
      };
      if (!named.has(word) || section.levels.length < 4) {
        if (room) labels.place([label, { ...label, y: label.y + 16 }, { ...label, y: label.y - 16 }]);
        else if (!plain || level.role === "house")
          labels.place([
            { ...label, y: yTop - 8 },
            { ...label, x: x1 + 8, anchor: "start" },
            { ...label, x: x0 - 8, anchor: "end" },
          ]);
        named.add(word);
      }
      const box = el("rect", {
        class: `section-${level.role}`,
        x: x0,
        y: yTop,
        width: x1 - x0,
        height: Math.max(1, yBottom - yTop),
      });
      labels.avoid({ x0, y0: yTop, x1, y1: yBottom });
      const slab = el("rect", {
        class: "slab",
        x: x0,
        y: yBottom,
        width: x1 - x0,
        height: Math.max(1.5, Math.min(yPad - yBottom, 2 * pxPerFt)),
      });
      return box + (plain ? "" : slab);
    })
    .join("");
}

function walls({ section, at, labels, format }: View, plain: boolean): string {
  return section.walls
    .map((wall) => {
      const [x, yTop] = at(wall.atFt, wall.topFt);
      const [, yBottom] = at(wall.atFt, wall.bottomFt);
      if (yBottom - yTop < 0.5) return "";
      if (wall.kind === "site" && !plain && wall.topFt - wall.bottomFt >= LOWEST_NAMED_FT) {
        const text = `wall ${format.length(wall.topFt - wall.bottomFt, 0.5)}`;
        labels.place([...around(x, yTop, text), { x, y: yTop - 30, text, anchor: "middle" }]);
      }
      return el("rect", { class: "section-wall", x: x - 2, y: yTop, width: 4, height: yBottom - yTop });
    })
    .join("");
}

function piers({ section, at }: View): string {
  return section.piers
    .map((pier) => {
      const [x, yTop] = at(pier.atFt, pier.topFt);
      const [, yBottom] = at(pier.atFt, pier.bottomFt);
      return el("rect", {
        class: "section-pier",
        x: x - 2.5,
        y: yTop,
        width: 5,
        height: Math.max(1, yBottom - yTop),
      });
    })
    .join("");
}

function wells({ section, at, pxPerFt }: View): string {
  return section.wells
    .map((well) => {
      const [x, yTop] = at(well.atFt - well.widthFt / 2, well.topFt);
      const [, yBottom] = at(well.atFt, well.bottomFt);
      return el("rect", {
        class: "well",
        x,
        y: yTop,
        width: well.widthFt * pxPerFt,
        height: Math.max(1, yBottom - yTop),
      });
    })
    .join("");
}

function drains({ section, at }: View): string {
  return section.drains
    .map(({ atFt, elevFt }) => {
      const [cx, cy] = at(atFt, elevFt);
      return el("circle", { class: "section-drain", cx, cy, r: 3.6 });
    })
    .join("");
}

function lotLines({ section, fromFt, toFt, at, labels, height }: View): string {
  return [section.lotFromFt, section.lotToFt]
    .filter((atFt) => atFt >= fromFt && atFt <= toFt)
    .map((atFt) => {
      const [x] = at(atFt, 0);
      labels.place([
        { x: x + 5, y: 20, text: "lot line", size: "small" },
        { x: x - 5, y: 20, text: "lot line", size: "small", anchor: "end" },
        { x: x - 5, y: 40, text: "lot line", size: "small", anchor: "end" },
      ]);
      return el("path", {
        class: "lot-upright",
        d: `M${x.toFixed(1)} 6V${(height - FOOT_PX - 6).toFixed(1)}`,
      });
    })
    .join("");
}

/** Faint level lines at round heights, named at the left. */
function heightLines({ at, lowFt, height, labels, format, pxPerFt }: View): string {
  const highFt = lowFt + (height - FOOT_PX - UNDER_PX - TOP_PX) / pxPerFt;
  const perUnit = format.toLength(1);
  const step = [1, 2, 5, 10, 20, 50, 100].find((s) => (s / perUnit) * pxPerFt >= 44) ?? 200;
  const drawn: string[] = [];
  for (let n = Math.ceil((lowFt * perUnit) / step); n * step <= highFt * perUnit; n++) {
    const [, y] = at(0, (n * step) / perUnit);
    drawn.push(
      el("path", { class: "height-line", d: `M${SIDE_PX - 6} ${y.toFixed(1)}H${SHEET_WIDTH - 12}` }),
    );
    labels.place([
      { x: SIDE_PX - 9, y: y + 4, text: String(n * step), size: "small", anchor: "end", kind: "text-ground" },
    ]);
  }
  return drawn.join("");
}

function endLabels({ labels, height }: View, [left, right]: readonly [string, string]): void {
  const y = height - FOOT_PX - 9;
  labels.place([{ x: SIDE_PX, y, text: left, size: "small", kind: "text-ground" }]);
  labels.place([{ x: SHEET_WIDTH - 12, y, text: right, size: "small", anchor: "end", kind: "text-ground" }]);
}

/** Names the dashed line of natural ground near its uphill part. */
function groundLabel(view: View, graded: boolean): void {
  if (!graded) return;
  const known = view.section.stations.filter(
    (s) => s.groundFt !== null && s.atFt > view.fromFt && s.atFt < view.toFt,
  );
  const text = "natural ground";
  view.labels.place(
    [0.2, 0.1, 0.8, 0.3, 0.9, 0.7].flatMap((share) => {
      const station = known[Math.floor(share * (known.length - 1))];
      if (!station) return [];
      const [x, y] = view.at(station.atFt, station.groundFt!);
      return [
        { x, y: y - 10, text, size: "small" as const, anchor: "middle" as const, kind: "text-ground" },
        { x, y: y + 24, text, size: "small" as const, anchor: "middle" as const, kind: "text-ground" },
      ];
    }),
  );
}
