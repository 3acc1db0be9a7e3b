/** The driveway unrolled: ground and finished drive from the street to the garage, heights drawn larger when the drive is long. */
import type { SchemePicture } from "../../analysis/pictures/pictures.js";
import type { Format } from "../view/format.js";
import { SHEET_WIDTH, scaleBar } from "./drawing-frame.js";
import { labelField } from "./labels.js";
import { drawing, el, type PagePoint, type Picture, pathThrough } from "./svg.js";

const SIDE_PX = 52;
const TOP_PX = 34;
const FOOT_PX = 40;
const LOWEST_PLOT_PX = 90;

type Profile = NonNullable<SchemePicture["drive"]>["profile"];

/** How many times heights are drawn larger than lengths, 1 where the drive is short or steep enough to read. */
export function heightScale(profile: Profile): number {
  const heights = profile.flatMap((s) => [s.groundFt, s.gradeFt]);
  const risePx =
    ((Math.max(...heights) - Math.min(...heights)) * (SHEET_WIDTH - 2 * SIDE_PX)) / lengthOf(profile);
  return Math.max(1, Math.min(5, Math.round(LOWEST_PLOT_PX / Math.max(risePx, 1))));
}

function lengthOf(profile: Profile): number {
  return Math.max(1, profile.at(-1)!.stationFt - profile[0]!.stationFt);
}

export function driveProfile(
  words: { id: string; title: string; words: string },
  profile: Profile,
  format: Format,
): Picture {
  const times = heightScale(profile);
  const heights = profile.flatMap((s) => [s.groundFt, s.gradeFt]);
  const low = Math.min(...heights) - 2;
  const high = Math.max(...heights) + 1;
  const pxPerFt = (SHEET_WIDTH - 2 * SIDE_PX) / lengthOf(profile);
  const plot = (high - low) * pxPerFt * times;
  const height = Math.ceil(TOP_PX + plot + 22 + FOOT_PX);
  const at = (stationFt: number, elevFt: number): PagePoint => [
    SIDE_PX + (stationFt - profile[0]!.stationFt) * pxPerFt,
    TOP_PX + plot - (elevFt - low) * pxPerFt * times,
  ];
  const ground = profile.map((s) => at(s.stationFt, s.groundFt));
  const grade = profile.map((s) => at(s.stationFt, s.gradeFt));
  const base = TOP_PX + plot + 20;
  const labels = labelField(SHEET_WIDTH, height - FOOT_PX);
  labels.place([{ x: grade[0]![0], y: base - 4, text: "street", size: "small", kind: "text-ground" }]);
  labels.place([
    { x: grade.at(-1)![0], y: base - 4, text: "garage", size: "small", anchor: "end", kind: "text-ground" },
  ]);
  gradeLabels(profile, at, labels, format);
  const end = (station: Profile[number], anchor: "start" | "end") => {
    const [x, y] = at(station.stationFt, Math.max(station.gradeFt, station.groundFt));
    labels.place([
      { x, y: y - 8, text: format.elevation(station.gradeFt), size: "small", anchor, kind: "text-strong" },
      { x, y: y - 26, text: format.elevation(station.gradeFt), size: "small", anchor, kind: "text-strong" },
    ]);
  };
  end(profile[0]!, "start");
  end(profile.at(-1)!, "end");
  const body = [
    el("path", {
      class: "earth",
      d: pathThrough([[grade[0]![0], base], ...grade, [grade.at(-1)![0], base]], true),
    }),
    ...between(profile).map(({ side, stations }) =>
      el("path", {
        class: side,
        fill: `url(#${side})`,
        d: pathThrough(
          [
            ...stations.map((s) => at(s.stationFt, s.groundFt)),
            ...stations.map((s) => at(s.stationFt, s.gradeFt)).reverse(),
          ],
          true,
        ),
      }),
    ),
    el("path", { class: "ground-before", d: pathThrough(ground) }),
    el("path", { class: "drive-line", d: pathThrough(grade) }),
    labels.svg(),
    scaleBar(SIDE_PX, height - FOOT_PX + 10, pxPerFt, format, SHEET_WIDTH * 0.3),
  ].join("");
  return drawing(words.id, words.title, words.words, SHEET_WIDTH, height, body);
}

/** Steepness of each stretch that keeps its grade, written over it. */
function gradeLabels(
  profile: Profile,
  at: (s: number, z: number) => PagePoint,
  labels: ReturnType<typeof labelField>,
  format: Format,
): void {
  for (const { from, to, gradePct } of stretches(profile)) {
    const [x0] = at(from.stationFt, 0);
    const [x1] = at(to.stationFt, 0);
    if (x1 - x0 < 50) continue;
    const [x, y] = at(
      (from.stationFt + to.stationFt) / 2,
      Math.max(from.gradeFt, to.gradeFt, from.groundFt, to.groundFt),
    );
    const text = format.percent(Math.abs(gradePct));
    labels.place([14, 30, 46].map((up) => ({ x, y: y - up + 6, text, anchor: "middle" as const })));
  }
}

function stretches(profile: Profile): { from: Profile[number]; to: Profile[number]; gradePct: number }[] {
  const found: { from: Profile[number]; to: Profile[number]; gradePct: number }[] = [];
  for (let i = 1; i < profile.length; i++) {
    const [a, b] = [profile[i - 1]!, profile[i]!];
    const run = b.stationFt - a.stationFt;
    if (run <= 0) continue;
    const gradePct = (100 * (b.gradeFt - a.gradeFt)) / run;
    const last = found.at(-1);
    if (last && Math.abs(last.gradePct - gradePct) < 1.5)
      found[found.length - 1] = {
        from: last.from,
        to: b,
        gradePct: (100 * (b.gradeFt - last.from.gradeFt)) / (b.stationFt - last.from.stationFt),
      };
    else found.push({ from: a, to: b, gradePct });
  }
  return found;
}

function between(profile: Profile): { side: "cut" | "fill"; stations: Profile[number][] }[] {
  const pieces: { side: "cut" | "fill"; stations: Profile[number][] }[] = [];
  for (let i = 1; i < profile.length; i++) {
    const [a, b] = [profile[i - 1]!, profile[i]!];
    const [da, db] = [a.groundFt - a.gradeFt, b.groundFt - b.gradeFt];
    if (da * db < 0) {
      const t = da / (da - db);
      const level = a.groundFt + (b.groundFt - a.groundFt) * t;
      const middle = {
        stationFt: a.stationFt + (b.stationFt - a.stationFt) * t,
        groundFt: level,
        gradeFt: level,
      };
      pieces.push(
        { side: da > 0 ? "cut" : "fill", stations: [a, middle] },
        { side: db > 0 ? "cut" : "fill", stations: [middle, b] },
      );
    } else if (da !== 0 || db !== 0) pieces.push({ side: da + db > 0 ? "cut" : "fill", stations: [a, b] });
  }
  return pieces;
}
