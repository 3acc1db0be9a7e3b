/** What intake understood, as one picture: shots by height, facets, lot line with its edge numbers, trees, what was left out. */
import { boxOf, type MultiPolygon, type Point, type Ring } from "../../analysis/geometry/plane.js";
import { type Frame, frameAround, north, scaleBar } from "./survey-preview-frame.js";
import { areaPath, el, escapeText, linePath, type PagePoint, px } from "./svg.js";

export interface SurveyPreview {
  /** Unique in the page. */
  readonly id: string;
  readonly boundary: Ring;
  /** Caller's number of the edge that leaves each corner; an edge of several chords has one number. */
  readonly inputEdge: readonly number[];
  /** Edges on the street, by those numbers. */
  readonly frontage?: readonly number[];
  readonly shots: {
    readonly count: number;
    readonly eastFt: ArrayLike<number>;
    readonly northFt: ArrayLike<number>;
    readonly elevFt: ArrayLike<number>;
  };
  /** Three corners a facet. */
  readonly facets?: {
    readonly eastFt: ArrayLike<number>;
    readonly northFt: ArrayLike<number>;
    readonly triangles: ArrayLike<number>;
  };
  readonly breaklines?: readonly (readonly (readonly [number, number, number])[])[];
  readonly trees?: readonly { readonly at: Point; readonly radiusFt: number }[];
  readonly leftOut?: readonly { readonly at: Point; readonly row: number; readonly reason: string }[];
  readonly unsurveyed?: MultiPolygon;
}

/** More dots, or facets, only blacken the picture. */
const DRAWN_SHOTS = 3_000;
const DRAWN_FACETS = 4_000;
/** Tones from low to high ground. Variables of the report's sheet, with its colours where there is none. */
const TONES = [
  "var(--tone-3, #cfb27c)",
  "var(--tone-4, #b3915f)",
  "var(--tone-5, #8f6b47)",
  "var(--tone-6, #674833)",
];
const INK = "var(--ink, #1f2a33)";
const SOFT = "var(--ink-soft, #4d5860)";
const SHEET = "var(--sheet, #fffefa)";
const FAINT = "var(--rule, #cdc6b4)";
const PLUM = "var(--plum, #46408c)";
const SAGE = "var(--sage, #2c6350)";
const BUILD = "var(--build, #d3e6da)";
const CUT = "var(--cut-deep, #a8661f)";

export function drawSurveyPreview(preview: SurveyPreview): string {
  const { id, boundary, shots, leftOut = [], trees = [], breaklines = [], unsurveyed = [] } = preview;
  const frame = frameAround(boundary);
  const clip = `${id}-clip`;
  const inner = { x: 4, y: 4, width: frame.width - 8, height: frame.mapBottom - 8 };
  const words = `${boundary.length} corners and ${shots.count} ground shots, north up${leftOut.length > 0 ? `; ${leftOut.length} left out, marked with crosses` : ""}${trees.length > 0 ? `; ${trees.length} trees` : ""}.`;
  const body = [
    el("clipPath", { id: clip }, el("rect", inner)),
    el("rect", { ...inner, fill: SHEET, stroke: FAINT }),
    el(
      "g",
      { "clip-path": `url(#${clip})` },
      [
        el("path", { d: areaPath([[boundary]], frame.toPage), fill: BUILD, "fill-opacity": "0.45" }),
        unsurveyedPatch(unsurveyed, frame),
        facetLines(preview.facets, frame),
        breaklines
          .map((line) =>
            el("path", { d: linePath(line, frame.toPage), fill: "none", stroke: CUT, "stroke-width": 1.6 }),
          )
          .join(""),
        treeRings(trees, frame),
        shotDots(shots, frame),
        crosses(leftOut, frame),
        edges(preview, frame),
      ].join(""),
    ),
    scaleBar(frame),
    north(frame),
  ].join("");
  return el(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      class: "survey-preview",
      viewBox: `0 0 ${px(frame.width)} ${px(frame.height)}`,
      role: "img",
      "aria-labelledby": `${id}-t ${id}-d`,
      "font-family": "Georgia, serif",
    },
    el("title", { id: `${id}-t` }, "The survey as it was read") +
      el("desc", { id: `${id}-d` }, escapeText(words)) +
      body,
  );
}

function shotDots(shots: SurveyPreview["shots"], { toPage, shows }: Frame): string {
  const seen: number[] = [];
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < shots.count; i++) {
    if (!shows(shots.eastFt[i]!, shots.northFt[i]!)) continue;
    seen.push(i);
    low = Math.min(low, shots.elevFt[i]!);
    high = Math.max(high, shots.elevFt[i]!);
  }
  const step = Math.max(1, Math.ceil(seen.length / DRAWN_SHOTS));
  const dots = TONES.map(() => "");
  for (let k = 0; k < seen.length; k += step) {
    const i = seen[k]!;
    const tone = Math.min(
      TONES.length - 1,
      Math.floor(((shots.elevFt[i]! - low) / (high - low || 1)) * TONES.length),
    );
    const [x, y] = toPage([shots.eastFt[i]!, shots.northFt[i]!]);
    // a stroke of no length with round ends is the shortest way to draw a dot
    dots[tone] += `M${px(x)} ${px(y)}h0`;
  }
  return dots
    .map((d, tone) =>
      d === ""
        ? ""
        : el("path", {
            class: "shot",
            d,
            fill: "none",
            stroke: TONES[tone],
            "stroke-width": 3.6,
            "stroke-linecap": "round",
          }),
    )
    .join("");
}

function facetLines(facets: SurveyPreview["facets"], { toPage, shows }: Frame): string {
  if (!facets || facets.triangles.length / 3 > DRAWN_FACETS) return "";
  const { eastFt, northFt, triangles } = facets;
  const drawn = new Set<number>();
  let d = "";
  for (let e = 0; e < triangles.length; e++) {
    const a = triangles[e]!;
    const b = triangles[e % 3 === 2 ? e - 2 : e + 1]!;
    const side = Math.min(a, b) * eastFt.length + Math.max(a, b);
    if (drawn.has(side)) continue;
    drawn.add(side);
    if (!shows(eastFt[a]!, northFt[a]!) && !shows(eastFt[b]!, northFt[b]!)) continue;
    const [ax, ay] = toPage([eastFt[a]!, northFt[a]!]);
    const [bx, by] = toPage([eastFt[b]!, northFt[b]!]);
    d += `M${px(ax)} ${px(ay)}L${px(bx)} ${px(by)}`;
  }
  return d === "" ? "" : el("path", { class: "facets", d, fill: "none", stroke: FAINT, "stroke-width": 0.7 });
}

function unsurveyedPatch(polygons: MultiPolygon, { toPage }: Frame): string {
  const d = areaPath(polygons, toPage);
  return d === ""
    ? ""
    : el("path", {
        class: "not-seen",
        d,
        fill: FAINT,
        "fill-opacity": "0.6",
        "fill-rule": "evenodd",
        stroke: SOFT,
        "stroke-dasharray": "2 4",
      });
}

function treeRings(trees: NonNullable<SurveyPreview["trees"]>, { toPage, pxPerFt }: Frame): string {
  return trees
    .map(({ at, radiusFt }) => {
      const [cx, cy] = toPage(at);
      return el("circle", {
        class: "tree-ring",
        cx,
        cy,
        r: Math.max(3, radiusFt * pxPerFt),
        fill: "none",
        stroke: SAGE,
        "stroke-dasharray": "5 2",
      });
    })
    .join("");
}

function crosses(leftOut: NonNullable<SurveyPreview["leftOut"]>, { toPage, shows }: Frame): string {
  return leftOut
    .filter(({ at: [x, y] }) => shows(x, y))
    .map(({ at, row, reason }) => {
      const [x, y] = toPage(at);
      return el(
        "g",
        { class: "left-out", stroke: PLUM, "stroke-width": 2 },
        el("title", {}, escapeText(`Row ${row}: ${reason}`)) +
          el("path", { d: `M${px(x - 5)} ${px(y - 5)}l10 10m0-10l-10 10` }),
      );
    })
    .join("");
}

/** Each edge is an element with data-edge = the caller's number, numbered from 1 on the picture. */
function edges({ boundary, inputEdge, frontage = [] }: SurveyPreview, { toPage }: Frame): string {
  const chords = new Map<number, PagePoint[][]>();
  boundary.forEach((from, i) => {
    const to = boundary[(i + 1) % boundary.length]!;
    const number = inputEdge[i] ?? i;
    chords.set(number, [...(chords.get(number) ?? []), [toPage(from), toPage(to)]]);
  });
  const box = boxOf(boundary);
  const [midX, midY] = toPage([(box.minEastFt + box.maxEastFt) / 2, (box.minNorthFt + box.maxNorthFt) / 2]);
  return [...chords]
    .map(([number, lines]) => {
      const [[ax, ay], [bx, by]] = lines[lines.length >> 1] as [PagePoint, PagePoint];
      const [x, y] = [(ax + bx) / 2, (ay + by) / 2];
      const away = Math.hypot(x - midX, y - midY) || 1;
      const street = frontage.includes(number);
      const d = lines.map(([a, b]) => `M${px(a![0])} ${px(a![1])}L${px(b![0])} ${px(b![1])}`).join("");
      return el(
        "g",
        { class: street ? "edge edge-street" : "edge", "data-edge": String(number) },
        el("path", { d, fill: "none", stroke: INK, "stroke-width": street ? 5 : 2.4 }) +
          el(
            "text",
            {
              x: x + ((x - midX) / away) * 16,
              y: y + ((y - midY) / away) * 16 + 5,
              "text-anchor": "middle",
              "font-size": "14",
              fill: INK,
            },
            String(number + 1),
          ),
      );
    })
    .join("");
}
