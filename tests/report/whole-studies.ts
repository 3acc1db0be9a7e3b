/** Whole studies, from files or formulas to the page: the demo lots, the open data sets, and lots of every size. */
import { readFileSync } from "node:fs";
import { parseCostBook } from "../../analysis/book/index.js";
import type { Pictures } from "../../analysis/pictures/index.js";
import { type RequestInput, requestSchema } from "../../analysis/request/index.js";
import { studyLot } from "../../analysis/study.js";
import { renderReport } from "../../templates/render-report.js";
import type { ReportStudy } from "../../templates/view/report-parts.js";

const read = (path: string) => readFileSync(new URL(`../../${path}`, import.meta.url));
const parsed = parseCostBook(JSON.parse(read("demo-data/cost-book.json").toString()));
if (!parsed.ok) throw new Error("the default cost book is not readable");
const { book } = parsed;

export interface WholeStudy {
  readonly study: ReportStudy;
  readonly pictures: Pictures;
}

async function wholeStudy(
  input: RequestInput,
  files: Parameters<typeof studyLot>[0]["files"] = {},
): Promise<WholeStudy> {
  const outcome = await studyLot({ input: requestSchema.parse(input), book, files });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  const kept = { id: "test", createdAt: "2026-11-25T08:00:00.000Z", token: "test" };
  return { study: { ...outcome.study, ...kept }, pictures: outcome.pictures };
}

export const DEMO_LOTS = ["quillback-lane", "saddlers-bowl", "wren-spur"] as const;

export function demoStudy(lot: (typeof DEMO_LOTS)[number]): Promise<WholeStudy> {
  const file = (name: string) => ({ name, bytes: new Uint8Array(read(`demo-data/${lot}/${name}`)) });
  return wholeStudy(JSON.parse(read(`demo-data/${lot}/request.json`).toString()), {
    topo: file("topo.csv"),
    boundary: file("boundary.csv"),
  });
}

interface ReferencePad {
  readonly id: string;
  readonly corners_EN: [number, number][];
  readonly elevation_ft: number;
}

/** An open data set of tests/reference with nothing said about it, or with its own pads. */
export function openStudy(set: string, { pads = false } = {}): Promise<WholeStudy> {
  const folder = `tests/reference/${set}`;
  const file = (name: string) => ({ name, bytes: new Uint8Array(read(`${folder}/${name}`)) });
  const given: ReferencePad[] = pads ? JSON.parse(read(`${folder}/values.json`).toString()).pads : [];
  return wholeStudy(
    {
      name: set,
      survey: { unit: "ft" },
      ...(pads
        ? {
            brief: {
              pads: given.map((p) => ({
                name: p.id,
                ring: p.corners_EN,
                elevationFt: p.elevation_ft,
                sides: "vertical",
              })),
            },
          }
        : {}),
    },
    { topo: file("points.csv"), boundary: file("boundary.csv") },
  );
}

export interface MadeLot {
  /** Height in feet over a place on the lot, feet from its southwest corner. */
  readonly elevFt: (eastFt: number, northFt: number) => number;
  readonly widthFt?: number;
  readonly depthFt?: number;
  readonly spacingFt?: number;
  readonly beyondFt?: number;
  readonly unit?: "ft" | "us-ft" | "m";
  readonly request?: RequestInput;
}

/** A rectangular lot with its street on the south, shot on a square grid, its four corners found. */
export function madeStudy({
  elevFt,
  widthFt = 200,
  depthFt = 220,
  spacingFt = 15,
  beyondFt = 45,
  unit = "ft",
  request = {},
}: MadeLot): Promise<WholeStudy> {
  // A foot of either kind stays a foot here; metres are international.
  const perFt = unit === "m" ? 0.3048 : 1;
  const row = (name: number, x: number, y: number, code: string) =>
    `${name},${((9000 + y) * perFt).toFixed(3)},${((5000 + x) * perFt).toFixed(3)},${(elevFt(x, y) * perFt).toFixed(3)},${code}`;
  const corners = [
    [0, 0],
    [widthFt, 0],
    [widthFt, depthFt],
    [0, depthFt],
  ] as const;
  const rows = corners.map(([x, y], i) => row(1 + i, x, y, "IPF"));
  for (let x = -beyondFt; x <= widthFt + beyondFt + 1; x += spacingFt)
    for (let y = -beyondFt; y <= depthFt + beyondFt + 1; y += spacingFt)
      rows.push(row(rows.length + 1, x, y, "GS"));
  return wholeStudy({
    name: "Made lot",
    survey: { unit, date: "2026-09-01", datum: "assumed" },
    topo: `point,northing,easting,elevation,description\n${rows.join("\n")}`,
    boundary: { ring: corners.map(([x, y]) => [(5000 + x) * perFt, (9000 + y) * perFt]) },
    access: { frontage: [0] },
    brief: { floorAreaFt2: 2400, storeys: 2, bedrooms: 3, garageCars: 2, basement: "either" },
    rules: { setbacksFt: { front: 20, side: 10, rear: 20 }, slopeLimitPct: 40 },
    ...request,
  });
}

/** The same ground at `gradePct`, rising from the street, with half a foot of roughness. */
export const plane = (gradePct: number) => (east: number, north: number) =>
  700 + (gradePct / 100) * north + 0.15 * Math.sin(7.3 * east + 3.1 * north);

export function reportOf(whole: WholeStudy, display?: "us" | "metric"): string {
  return renderReport({ ...whole, ...(display ? { display } : {}) });
}
