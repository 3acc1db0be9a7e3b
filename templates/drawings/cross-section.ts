/** Ground and house cut open along a line, the same scale up and across: exaggerated hills mislead. */
import type { Section } from "../../analysis/pictures/pictures.js";
import type { Format } from "../view/format.js";
import { SHEET_WIDTH, scaleBar } from "./drawing-frame.js";
import { around } from "./labels.js";
import {
  earthPath,
  FOOT_PX,
  frameSection,
  gradedPieces,
  groundPath,
  type SectionView,
  SIDE_PX,
  TOP_PX,
  UNDER_PX,
} from "./section-frame.js";
import { drawing, el, type Picture, pathThrough, px } from "./svg.js";

/** Lower walls are drawn, not named. */
const LOWEST_NAMED_FT = 2;

export interface SectionWords {
  readonly id: string;
  readonly title: string;
  readonly words: string;
  /** What lies at the two ends: "uphill", "downhill". */
  readonly ends: readonly [string, string];
}

/** Width and depth of a grade beam: the size the concrete is counted with. */
const BEAM_WIDE_FT = 1.5;
const BEAM_DEEP_FT = 2;

/** `close` shows the house and its surroundings instead of the whole lot, `spanFt` wide if given; `plain` leaves out drains, wells, piers and heights. */
export function crossSection(
  { id, title, words, ends }: SectionWords,
  section: Section,
  format: Format,
  { plain = false, ...frame }: { close?: boolean; spanFt?: number; plain?: boolean } = {},
): Picture {
  const view = frameSection(section, format, frame);
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

function levels({ section, at, labels, pxPerFt }: SectionView, plain: boolean): string {
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

function walls({ section, at, labels, format }: SectionView, plain: boolean): string {
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

/** Piers from what they carry down to firm ground, each with the grade beam on it, at the surface. */
function piers({ section, at, pxPerFt }: SectionView): string {
  return section.piers
    .map((pier) => {
      const [x, yTop] = at(pier.atFt, pier.topFt);
      const [, yBottom] = at(pier.atFt, pier.bottomFt);
      const [, yBeam] = at(pier.atFt, Math.min(pier.topFt, surfaceFt(section, pier.atFt) ?? pier.topFt));
      const wide = BEAM_WIDE_FT * pxPerFt;
      const post = el("rect", {
        class: "section-pier",
        x: x - 2.5,
        y: yTop,
        width: 5,
        height: Math.max(1, yBottom - yTop),
      });
      const beam = { class: "section-beam", x: x - wide / 2, y: yBeam, width: wide };
      return post + el("rect", { ...beam, height: BEAM_DEEP_FT * pxPerFt });
    })
    .join("");
}

/** Height of the finished ground, natural where nothing is graded, between the stations around a place. */
function surfaceFt({ stations }: Section, atFt: number): number | undefined {
  const after = stations.findIndex((s) => s.atFt >= atFt);
  const [a, b] = [stations[Math.max(0, after - 1)], stations[after]];
  const low = a && (a.designFt ?? a.groundFt);
  const high = b && (b.designFt ?? b.groundFt);
  if (!a || !b || low == null || high == null) return undefined;
  return b.atFt === a.atFt ? high : low + ((high - low) * (atFt - a.atFt)) / (b.atFt - a.atFt);
}

function wells({ section, at, pxPerFt }: SectionView): string {
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

function drains({ section, at }: SectionView): string {
  return section.drains
    .map(({ atFt, elevFt }) => {
      const [cx, cy] = at(atFt, elevFt);
      return el("circle", { class: "section-drain", cx, cy, r: 3.6 });
    })
    .join("");
}

function lotLines({ section, fromFt, toFt, at, labels, height }: SectionView): string {
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
        d: `M${px(x)} 6V${px(height - FOOT_PX - 6)}`,
      });
    })
    .join("");
}

/** Faint level lines at round heights, named at the left. */
function heightLines({ at, lowFt, height, labels, format, pxPerFt }: SectionView): string {
  const highFt = lowFt + (height - FOOT_PX - UNDER_PX - TOP_PX) / pxPerFt;
  const perUnit = format.toLength(1);
  const step = [1, 2, 5, 10, 20, 50, 100].find((s) => (s / perUnit) * pxPerFt >= 44) ?? 200;
  const drawn: string[] = [];
  for (let n = Math.ceil((lowFt * perUnit) / step); n * step <= highFt * perUnit; n++) {
    const [, y] = at(0, (n * step) / perUnit);
    drawn.push(el("path", { class: "height-line", d: `M${SIDE_PX - 6} ${px(y)}H${SHEET_WIDTH - 12}` }));
    labels.place([
      {
        x: SIDE_PX - 9,
        y: y + 4,
        text: String(n * step),
        size: "small",
        anchor: "end",
        kind: "text-ground",
      },
    ]);
  }
  return drawn.join("");
}

function endLabels({ labels, height }: SectionView, [left, right]: readonly [string, string]): void {
  const y = height - FOOT_PX - 9;
  labels.place([{ x: SIDE_PX, y, text: left, size: "small", kind: "text-ground" }]);
  labels.place([{ x: SHEET_WIDTH - 12, y, text: right, size: "small", anchor: "end", kind: "text-ground" }]);
}

/** Names the dashed line of natural ground near its uphill part. */
function groundLabel(view: SectionView, graded: boolean): void {
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
