/** One lot measured in a process of its own (so that its memory can be told apart), in its one thread: prints one line of JSON. */
import { readFileSync } from "node:fs";
import Delaunator from "delaunator";
import { parseCostBook } from "../../analysis/book/index.js";
import { MoneyDraws } from "../../analysis/cost/index.js";
import { requestSchema } from "../../analysis/request/index.js";
import { studyLot } from "../../analysis/study.js";
import { checkSurvey } from "../../server/tasks/check-survey.js";
import { openWorkshop } from "../../server/tasks/workshop-process.js";
import { renderReport } from "../../templates/render-report.js";
import { SEEDED_LOTS, writeLot } from "./seeded-lots.js";

export interface Measured {
  /** First study of this thread, nothing compiled. */
  readonly coldMs: number;
  /** Through the service's workshop, report included: the first once its threads are warm, and those after it. */
  readonly firstMs: number;
  readonly laterMs: number;
  readonly warmMs: number;
  /** Median of each step, in the order of the study. */
  readonly steps: readonly { readonly step: string; readonly ms: number }[];
  readonly checkMs: number;
  readonly reportMs: number;
  readonly reportBytes: number;
  readonly delaunayMs: number;
  readonly peakMb: number;
  /** Kind of each scheme; with "no" before it where it does not fit. */
  readonly schemes: readonly string[];
}

const lot = SEEDED_LOTS[Number(process.argv[2])]!;
const parsed = parseCostBook(JSON.parse(readFileSync("demo-data/cost-book.json", "utf8")));
if (!parsed.ok) throw new Error("the cost book does not parse");
const { book } = parsed;
const { topo, boundary, xy } = writeLot(lot);
const files = {
  topo: { name: "topo.csv", bytes: topo },
  boundary: { name: "boundary.csv", bytes: boundary },
};
const input = requestSchema.parse({
  name: lot.name,
  survey: { unit: "ft" },
  access: { frontage: [0] },
  utilities: { sewer: "yes" },
});

// a study thread of the service keeps the draws of prices from study to study, as here
const moneyDraws = new MoneyDraws();
const totals: number[] = [];
const steps = new Map<string, number[]>();
async function study() {
  let last = performance.now();
  const start = last;
  let running = "";
  const close = (next: string) => {
    const now = performance.now();
    if (running) steps.set(running, [...(steps.get(running) ?? []), now - last]);
    [running, last] = [next, now];
  };
  const outcome = await studyLot({ input, files, book, moneyDraws, onStep: close });
  close("");
  totals.push(performance.now() - start);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
}

const first = await study();
const coldMs = totals.pop()!;
steps.clear();
for (let i = 0; i < lot.runs; i++) await study();
const peakMb = process.resourceUsage().maxRSS / 1024;

const identified = { ...first.study, id: "bench", token: "bench", createdAt: "2026-01-01T00:00:00Z" };
let reportBytes = 0;
const reportMs = await medianMs(lot.runs, () => {
  reportBytes = Buffer.byteLength(renderReport({ study: identified, pictures: first.pictures }));
});
const checkMs = await medianMs(lot.runs, () => checkSurvey({ input, files }));
const delaunayMs = await medianMs(lot.runs, () => new Delaunator(xy));

const [firstMs, ...later] = await timesInWorkshop(1 + lot.runs);

const measured: Measured = {
  coldMs,
  firstMs: firstMs!,
  laterMs: median(later),
  warmMs: median(totals),
  steps: [...steps].map(([step, ms]) => ({ step, ms: median(ms) })),
  checkMs,
  reportMs,
  reportBytes,
  delaunayMs,
  peakMb,
  schemes: first.study.schemes.map(({ kind, feasible }) => (feasible ? kind : `no ${kind}`)),
};
console.log(JSON.stringify(measured));

/** Whole studies one after the other, as the service has them made. */
async function timesInWorkshop(studies: number): Promise<number[]> {
  const workshop = openWorkshop({ threads: null, studySeconds: 600, warmUp: true });
  const frame = { id: "bench", token: "bench", createdAt: "2026-01-01T00:00:00Z", parent: null, ref: null };
  const times: number[] = [];
  await workshop.warmUp(book);
  for (let i = 0; i < studies; i++) {
    const start = performance.now();
    const made = await workshop.study({ input, files, book, frame, before: null });
    times.push(performance.now() - start);
    if (!made.ok) throw new Error(JSON.stringify(made.problems));
  }
  await workshop.close();
  return times;
}

async function medianMs(runs: number, work: () => unknown): Promise<number> {
  const times: number[] = [];
  for (let i = 0; i <= runs; i++) {
    const start = performance.now();
    await work();
    times.push(performance.now() - start);
  }
  return median(times.slice(1));
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1]!;
}
