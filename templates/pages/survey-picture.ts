/** What intake read, drawn: shots by height, the lot line, and each edge as something that can be chosen. */
import { boxOf, type Point, type Ring } from "../../analysis/geometry/plane.js";
import { areaPath, el, escapeText, type PagePoint, px } from "../drawings/svg.js";

export interface SurveyPicture {
  readonly boundary: Ring;
  readonly edges: readonly {
    readonly number: number;
    readonly lengthFt: number;
    readonly faces: string;
    readonly frontage: boolean;
  }[];
  readonly shots: {
    readonly count: number;
    readonly eastFt: ArrayLike<number>;
    readonly northFt: ArrayLike<number>;
    readonly elevFt: ArrayLike<number>;
  };
  readonly features: readonly { readonly at: Point; readonly kind: string }[];
}

const SIZE_PX = 560;
const MARGIN_PX = 34;
/** More dots than this only blacken the picture. */
const DRAWN_SHOTS = 2500;
/** Shots farther than this share of the lot's size outside it are left out of the frame. */
const AROUND_SHARE = 0.25;
const TONES = 5;

export function surveyPicture({ boundary, edges, shots, features }: SurveyPicture): string {
  const box = boxOf(boundary);
  const around = AROUND_SHARE * Math.max(box.maxEastFt - box.minEastFt, box.maxNorthFt - box.minNorthFt);
  const seen: number[] = [];
  for (let i = 0; i < shots.count; i++) {
    const [east, north] = [shots.eastFt[i]!, shots.northFt[i]!];
    if (
      east >= box.minEastFt - around &&
      east <= box.maxEastFt + around &&
      north >= box.minNorthFt - around &&
      north <= box.maxNorthFt + around
    )
      seen.push(i);
  }
  const drawn = seen.filter((_, k) => k % Math.ceil(seen.length / DRAWN_SHOTS) === 0);
  const frame = boxOf([...boundary, ...drawn.map((i): Point => [shots.eastFt[i]!, shots.northFt[i]!])]);
  const pxPerFt =
    (SIZE_PX - 2 * MARGIN_PX) /
    Math.max(frame.maxEastFt - frame.minEastFt, frame.maxNorthFt - frame.minNorthFt);
  const width = (frame.maxEastFt - frame.minEastFt) * pxPerFt + 2 * MARGIN_PX;
  const height = (frame.maxNorthFt - frame.minNorthFt) * pxPerFt + 2 * MARGIN_PX;
  const toPage = ([east, north]: Point): PagePoint => [
    MARGIN_PX + (east - frame.minEastFt) * pxPerFt,
    height - MARGIN_PX - (north - frame.minNorthFt) * pxPerFt,
  ];

  let low = Infinity;
  let high = -Infinity;
  for (const i of drawn) {
    low = Math.min(low, shots.elevFt[i]!);
    high = Math.max(high, shots.elevFt[i]!);
  }
  const dots: string[] = new Array<string>(TONES).fill("");
  for (const i of drawn) {
    const tone = Math.min(TONES - 1, Math.floor(((shots.elevFt[i]! - low) / (high - low || 1)) * TONES));
    const [x, y] = toPage([shots.eastFt[i]!, shots.northFt[i]!]);
    // A zero-length stroke with round ends is the shortest way to draw a dot.
    dots[tone] += `M${px(x)} ${px(y)}h0`;
  }
  const middle: PagePoint = toPage([
    (box.minEastFt + box.maxEastFt) / 2,
    (box.minNorthFt + box.maxNorthFt) / 2,
  ]);
  const lines = edges.map((edge, i) => {
    const [ax, ay] = toPage(boundary[i]!);
    const [bx, by] = toPage(boundary[(i + 1) % boundary.length]!);
    const [mx, my] = [(ax + bx) / 2, (ay + by) / 2];
    const away = Math.hypot(mx - middle[0], my - middle[1]) || 1;
    const d = `M${px(ax)} ${px(ay)}L${px(bx)} ${px(by)}`;
    return el(
      "g",
      { class: edge.frontage ? "edge edge-street" : "edge", "data-edge": String(edge.number) },
      el(
        "title",
        {},
        escapeText(`Edge ${edge.number + 1}, ${Math.round(edge.lengthFt)} ft, faces ${edge.faces}`),
      ) +
        el("path", { class: "edge-hit", d }) +
        el("path", { class: "edge-line", d }) +
        el(
          "text",
          {
            class: "edge-name",
            x: mx + ((mx - middle[0]) / away) * 18,
            y: my + ((my - middle[1]) / away) * 18 + 5,
          },
          String(edge.number + 1),
        ),
    );
  });
  const body = [
    el("path", { class: "lot-ground", d: areaPath([[boundary]], toPage) }),
    ...dots.map((d, tone) => el("path", { class: `shot shot-${tone}`, d })),
    ...features.map(({ at, kind }) => {
      const [cx, cy] = toPage(at);
      return el("circle", { class: `feature feature-${kind}`, cx, cy, r: 3 });
    }),
    ...lines,
  ];
  return el(
    "svg",
    {
      class: "survey-picture",
      viewBox: `0 0 ${px(width)} ${px(height)}`,
      role: "img",
      "aria-label": `The lot as read: ${boundary.length} corners and ${shots.count} ground shots, north up. Edges are numbered.`,
    },
    body.join(""),
  );
}
