/** `npm run bench`: measures whole studies of the seeded lots, prints the table and writes docs/speed.md. A number picks one lot and writes nothing. */
import { execFileSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";
import { THREAD_LIMITS } from "../../server/tasks/thread-pool.js";
import type { Measured } from "./measure-lot.js";
import { SEEDED_LOTS } from "./seeded-lots.js";

const root = new URL("../../", import.meta.url).pathname;
/** Compiled beside what `npm start` runs: a program run from its sources is slower and holds more memory. */
const built = `${root}dist/tests/bench/`;
const only = process.argv[2];
build();
const lots = SEEDED_LOTS.map((lot, i) => ({ lot, i })).filter(
  ({ i }) => only === undefined || i === Number(only),
);
const measured = lots.map(
  ({ lot, i }): Measured & { lotsPerSecond: number | null; getP99Ms: number | null } => {
    process.stderr.write(`${lot.name} …\n`);
    const one = JSON.parse(lastLineOf("measure-in-thread.js", i)) as Measured;
    if (lot.acres > 1) return { ...one, lotsPerSecond: null, getP99Ms: null };
    const { p99Ms } = JSON.parse(lastLineOf("measure-latency.js", i, `${root}dist/server/main.js`)) as {
      p99Ms: number;
    };
    return { ...one, lotsPerSecond: Number(lastLineOf("measure-throughput.js", i)), getP99Ms: p99Ms };
  },
);

function build(): void {
  mkdirSync(`${root}dist`, { recursive: true });
  writeFileSync(
    `${root}dist/bench.json`,
    JSON.stringify({
      extends: "../.tsconfig.build.json",
      compilerOptions: { outDir: ".", rootDir: "..", tsBuildInfoFile: "bench.tsbuildinfo" },
      include: ["../server", "../analysis", "../templates", "../tests/bench"],
    }),
  );
  execFileSync(process.execPath, [`${root}node_modules/typescript/bin/tsc`, "-p", `${root}dist/bench.json`], {
    stdio: "inherit",
  });
}

function lastLineOf(script: string, lot: number, ...more: readonly string[]): string {
  const out = execFileSync(process.execPath, [`${built}${script}`, String(lot), ...more], {
    cwd: root,
    encoding: "utf8",
    stdio: ["ignore", "pipe", "inherit"],
    maxBuffer: 1e8,
  });
  return out.trim().split("\n").at(-1)!;
}

/** What was set out to be reached, per lot, in the row's unit; null where nothing was set. */
const ROWS: readonly {
  name: string;
  value: (m: (typeof measured)[number]) => number | null;
  /** Larger is better. */
  atLeast?: true;
  digits: number;
  targets: readonly (number | null)[];
}[] = [
  {
    name: "whole study, five schemes, warm, s",
    value: (m) => m.warmMs / 1000,
    digits: 2,
    targets: [0.2, 0.3, 1.2, 3.5],
  },
  {
    name: "first study in a bare thread, nothing compiled, s",
    value: (m) => m.coldMs / 1000,
    digits: 2,
    targets: [null, null, null, null],
  },
  {
    name: "first study after the service's start, threads warm, report included, s",
    value: (m) => m.firstMs / 1000,
    digits: 2,
    targets: [null, null, null, null],
  },
  {
    name: "that ÷ the studies after it",
    value: (m) => m.firstMs / m.laterMs,
    digits: 1,
    targets: [2.5, 2.5, 2.5, 2.5],
  },
  {
    name: "× Delaunator alone on the same points",
    value: (m) => m.warmMs / m.delaunayMs,
    digits: 1,
    targets: [null, 100, 12, 2.5],
  },
  { name: "survey check, ms", value: (m) => m.checkMs, digits: 0, targets: [15, 30, 300, 2500] },
  { name: "report HTML from a study, ms", value: (m) => m.reportMs, digits: 0, targets: [40, 40, 60, 80] },
  { name: "report HTML, MB", value: (m) => m.reportBytes / 1e6, digits: 2, targets: [1, 1, 1, 1] },
  {
    name: "peak resident memory of the process, MB",
    value: (m) => m.peakMb,
    digits: 0,
    targets: [180, 200, 350, 500],
  },
  {
    name: "lots a second, two threads, reports included",
    value: (m) => m.lotsPerSecond,
    digits: 1,
    targets: [8, 6, null, null],
    atLeast: true,
  },
  {
    name: "a report fetched while two threads study, 99th percentile, ms",
    value: (m) => m.getP99Ms,
    digits: 0,
    targets: [20, 20, null, null],
  },
];

const header = ["", ...lots.map(({ lot }) => lot.name)];
const results = ROWS.map(({ name, value, digits, targets, atLeast }) => [
  name,
  ...measured.map((m, k) => {
    const target = targets[lots[k]!.i] ?? null;
    const got = value(m);
    if (got === null) return "";
    const met = target === null || (atLeast ? got >= target : got <= target);
    const aim =
      target === null ? "" : met ? ` (${atLeast ? "≥" : "≤"} ${target})` : ` **(target ${target}, missed)**`;
    return `${got.toFixed(digits)}${aim}`;
  }),
]);
const stepNames = [...new Set(measured.flatMap(({ steps }) => steps.map(({ step }) => step)))];
const stepRows = stepNames.map((name) => [
  name,
  ...measured.map(({ steps }) => steps.find(({ step }) => step === name)?.ms.toFixed(1) ?? ""),
]);

const text = `# Speed

Written by \`npm run bench\`: whole studies of four invented lots, from the bytes of a CSV to results and pictures. Medians of warm runs in one process per lot, in a thread with the memory limits of the service's study threads (${THREAD_LIMITS.maxYoungGenerationSizeMb} MB for young objects, ${THREAD_LIMITS.maxOldGenerationSizeMb} MB for old ones) that keeps the draws of prices from study to study as they do; Node ${process.versions.node}, ${cpus()[0]?.model.trim() ?? "unknown processor"}, ${cpus().length} logical processors, compiled. Targets stand in brackets; missed ones say so. Load average at the end ${loadavg()[1]!.toFixed(1)}: with more running than processors, times are too long by about that ratio; the ratios to Delaunator, taken in the same run, move less.

${table([header, ...results])}

## Where the time goes, ms

${table([["step", ...header.slice(1)], ...stepRows])}

Schemes found: ${lots.map(({ lot }, k) => `${lot.name}: ${measured[k]!.schemes.join(", ")}`).join("; ")}.
`;
console.log(text);
if (only === undefined) writeFileSync(new URL("../../docs/speed.md", import.meta.url), text);

function table([head, ...rows]: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  return [line(head!), line(head!.map((_, i) => (i === 0 ? "---" : "---:"))), ...rows.map(line)].join("\n");
}
