/** The lot as a block cut out of the hill, seen from below: profiles drawn from back to front, each hiding what lies behind it. */
import { boxOf, type Point } from "../../analysis/geometry/plane.js";
import type { PictureGrid, Pictures, SchemePicture } from "../../analysis/pictures/pictures.js";
import { thinLine } from "../../analysis/pictures/thin.js";
import { SHEET_WIDTH } from "./drawing-frame.js";
import { drawing, el, type PagePoint, type Picture, pathThrough, px } from "./svg.js";

const MARGIN_PX = 26;
const PROFILES = 46;
/** Closer points along a profile do not show. */
const STEP_PX = 6;
const TOLERANCE_PX = 0.3;
/** How much of the way into the picture shows: the sine of the angle the eye looks down. */
const DEPTH_SHARE = 0.5;
/** Heights stay true to the same scale as widths times this: the cosine of that angle. */
const RISE_SHARE = Math.sqrt(1 - DEPTH_SHARE ** 2);
const BASE_FT = 12;

interface Eye {
  readonly toEye: (east: number, north: number) => Point;
  readonly fromEye: (across: number, away: number) => Point;
}

export function blockView(
  words: { id: string; title: string; words: string },
  pictures: Pictures,
  scheme: SchemePicture | undefined,
  downhill: Point,
): Picture | undefined {
  const eye = eyeLookingUp(downhill);
  const ring = pictures.boundary.map(([x, y]) => eye.toEye(x, y));
  const box = boxOf(ring);
  const heightOf = (across: number, away: number) => groundAt(pictures.ground, ...eye.fromEye(across, away));
  const pxPerFt = (SHEET_WIDTH - 2 * MARGIN_PX) / (box.maxEastFt - box.minEastFt);
  const stepFt = STEP_PX / pxPerFt;
  const rows = profiles(ring, box, heightOf, stepFt);
  const known = rows.flatMap((row) => row.flat().map((p) => p.elevFt));
  if (known.length === 0) return undefined;
  const lowFt = Math.min(...known) - BASE_FT;
  const project = (across: number, away: number, elevFt: number): PagePoint => [
    MARGIN_PX + (across - box.minEastFt) * pxPerFt,
    -(away - box.minNorthFt) * pxPerFt * DEPTH_SHARE - (elevFt - lowFt) * pxPerFt * RISE_SHARE,
  ];
  const shapes: { away: number; svg: string; top: number }[] = rows.flatMap((row) =>
    row.map((run) => {
      const top = thinLine(
        run.map((p) => project(p.across, p.away, p.elevFt)),
        TOLERANCE_PX,
      );
      const first = run[0]!;
      const last = run.at(-1)!;
      const d = pathThrough(
        [project(first.across, first.away, lowFt), ...top, project(last.across, last.away, lowFt)],
        true,
      );
      return {
        away: first.away,
        top: Math.min(...top.map((p) => p[1])),
        svg:
          el("path", { class: "block-fill", d }) + el("path", { class: "block-line", d: pathThrough(top) }),
      };
    }),
  );
  shapes.push(...skirts(ring, heightOf, project, { lowFt, stepFt }));
  if (scheme) shapes.push(...houseBlocks(scheme, eye, project));
  shapes.sort((a, b) => b.away - a.away);
  const top = Math.min(...shapes.map((s) => s.top));
  const shift = MARGIN_PX - top;
  const height = Math.ceil(shift + MARGIN_PX);
  const body = el("g", { transform: `translate(0 ${px(shift)})` }, shapes.map((s) => s.svg).join(""));
  return drawing(words.id, words.title, words.words, SHEET_WIDTH, height, body);
}

/** Turns the site so that the fall line runs toward the eye. */
function eyeLookingUp([dx, dy]: Point): Eye {
  const length = Math.hypot(dx, dy) || 1;
  const [ux, uy] = [-dx / length, -dy / length];
  return {
    toEye: (east, north) => [east * uy - north * ux, east * ux + north * uy],
    fromEye: (across, away) => [across * uy + away * ux, -across * ux + away * uy],
  };
}

interface ProfilePoint {
  readonly across: number;
  readonly away: number;
  readonly elevFt: number;
}

/** Lines across the lot at even distances, each cut at the lot line and where the survey ends. */
function profiles(
  ring: readonly Point[],
  box: ReturnType<typeof boxOf>,
  heightOf: (across: number, away: number) => number,
  stepFt: number,
): ProfilePoint[][][] {
  const rows: ProfilePoint[][][] = [];
  const span = box.maxNorthFt - box.minNorthFt;
  for (let i = 0; i <= PROFILES; i++) {
    const away = box.minNorthFt + span * (0.002 + (0.996 * i) / PROFILES);
    const runs: ProfilePoint[][] = [];
    for (const [from, to] of insideSpans(ring, away)) {
      let run: ProfilePoint[] = [];
      const steps = Math.max(2, Math.ceil((to - from) / stepFt));
      for (let k = 0; k <= steps; k++) {
        const across = from + ((to - from) * k) / steps;
        const elevFt = heightOf(across, away);
        if (Number.isNaN(elevFt)) {
          if (run.length > 1) runs.push(run);
          run = [];
        } else run.push({ across, away, elevFt });
      }
      if (run.length > 1) runs.push(run);
    }
    rows.push(runs);
  }
  return rows;
}

function insideSpans(ring: readonly Point[], away: number): [number, number][] {
  const at: number[] = [];
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    if (ay > away !== by > away) at.push(ax + ((bx - ax) * (away - ay)) / (by - ay));
  });
  at.sort((a, b) => a - b);
  const spans: [number, number][] = [];
  for (let i = 0; i + 1 < at.length; i += 2) spans.push([at[i]!, at[i + 1]!]);
  return spans;
}

/** Between the centres of the picture's coarse ground, by those of the four neighbours that are known; NaN where none is. */
function groundAt({ grid, values }: PictureGrid, east: number, north: number): number {
  const x = (east - grid.originEastFt) / grid.cellFt - 0.5;
  const y = (north - grid.originNorthFt) / grid.cellFt - 0.5;
  const col = Math.floor(x);
  const row = Math.floor(y);
  let sum = 0;
  let weights = 0;
  for (const [c, r] of [
    [col, row],
    [col + 1, row],
    [col, row + 1],
    [col + 1, row + 1],
  ] as const) {
    const value = c >= 0 && r >= 0 && c < grid.cols && r < grid.rows ? values[r * grid.cols + c] : null;
    if (value === null || value === undefined) continue;
    const weight = Math.max(1e-6, (1 - Math.abs(x - c)) * (1 - Math.abs(y - r)));
    sum += value * weight;
    weights += weight;
  }
  return weights > 0 ? sum / weights : NaN;
}

/** The cut faces of the block that look toward the eye. */
function skirts(
  ring: readonly Point[],
  heightOf: (across: number, away: number) => number,
  project: (across: number, away: number, elevFt: number) => PagePoint,
  { lowFt, stepFt }: { readonly lowFt: number; readonly stepFt: number },
) {
  return ring.flatMap((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    // Counter-clockwise, an edge that runs to the right has its outer side toward the eye.
    if (b[0] - a[0] <= 0) return [];
    const steps = Math.max(2, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / stepFt));
    const top: PagePoint[] = [];
    const foot: PagePoint[] = [];
    for (let k = 0; k <= steps; k++) {
      const across = a[0] + ((b[0] - a[0]) * k) / steps;
      const away = a[1] + ((b[1] - a[1]) * k) / steps;
      const elevFt = heightOf(across, away);
      if (Number.isNaN(elevFt)) continue;
      top.push(project(across, away, elevFt));
      foot.push(project(across, away, lowFt));
    }
    if (top.length < 2) return [];
    const d = pathThrough([...thinLine(top, TOLERANCE_PX), foot.at(-1)!, foot[0]!], true);
    return [
      {
        away: Math.min(a[1], b[1]),
        top: Math.min(...top.map((p) => p[1])),
        svg: el("path", { class: "block-side", d }),
      },
    ];
  });
}

/** Each level as a box: its far walls first, the roof last. */
function houseBlocks(
  scheme: SchemePicture,
  eye: Eye,
  project: (across: number, away: number, elevFt: number) => PagePoint,
) {
  const topOf = (name: string, floorFt: number) =>
    scheme.along.levels.find((l) => l.name === name)?.topFt ??
    scheme.across.levels.find((l) => l.name === name)?.topFt ??
    floorFt + 10;
  return [...scheme.levels]
    .sort((a, b) => a.elevationFt - b.elevationFt)
    .map((level) => {
      const ring = level.ring.map(([x, y]) => eye.toEye(x, y));
      const topFt = topOf(level.name, level.floorElevationFt);
      const sides = ring
        .map((a, i) => ({ a, b: ring[(i + 1) % ring.length]! }))
        .sort((p, q) => q.a[1] + q.b[1] - (p.a[1] + p.b[1]))
        .map(({ a, b }) =>
          el("path", {
            class: level.role === "garage" ? "block-garage" : "block-wall",
            d: pathThrough(
              [
                project(a[0], a[1], level.elevationFt),
                project(b[0], b[1], level.elevationFt),
                project(b[0], b[1], topFt),
                project(a[0], a[1], topFt),
              ],
              true,
            ),
          }),
        );
      const roof = ring.map(([across, away]) => project(across, away, topFt));
      // The house stands in front of every profile behind its nearest corner.
      const nearest = Math.min(...ring.map((p) => p[1]));
      return {
        away: nearest,
        top: Math.min(...roof.map((p) => p[1])),
        svg: sides.join("") + el("path", { class: "block-roof", d: pathThrough(roof, true) }),
      };
    });
}
