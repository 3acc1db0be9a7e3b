/**
 * How long a report takes to come while studies keep every thread busy: the service in a process of its own, this one
 * asks. Prints one line of JSON. Arguments: the lot's number, and another main module of the service (default: source).
 */
import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { Agent, get } from "node:http";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { SEEDED_LOTS, writeLot } from "./seeded-lots.js";

const PARCELS = 200;
const GETS = 600;
/** Between two questions: a reader, not a flood. */
const PAUSE_MS = 20;
/** Answers before this many are not counted: code is still being compiled. */
const WARM_UP = 60;

const lot = SEEDED_LOTS[Number(process.argv[2] ?? 0)]!;
const main = process.argv[3];
const folder = mkdtempSync(join(tmpdir(), "lotbrief-latency-"));
const port = await freePort();
const home = `http://127.0.0.1:${port}`;
const service = spawn(
  process.execPath,
  main ? [main] : ["--import", "tsx", new URL("../../server/main.ts", import.meta.url).pathname],
  {
    env: {
      ...process.env,
      PORT: String(port),
      LOTBRIEF_DATA: folder,
      LOTBRIEF_LOG: "error",
      LOTBRIEF_REQUESTS_PER_MINUTE: "1000000",
    },
    stdio: ["ignore", "ignore", "inherit"],
  },
);
try {
  await untilReady();
  const { topo, boundary } = writeLot(lot);
  const form = new FormData();
  form.set("topo", new Blob([topo as Uint8Array<ArrayBuffer>]), "topo.csv");
  form.set("boundary", new Blob([boundary as Uint8Array<ArrayBuffer>]), "boundary.csv");
  form.set("request", JSON.stringify({ survey: { unit: "ft" }, access: { frontage: [0] } }));
  const { surveyId } = await post<{ surveyId: string }>("/v1/surveys", form);
  const { links } = await post<{ links: { report: string; share: string } }>("/v1/studies", { surveyId });
  const parcels = Array.from({ length: PARCELS }, (_, i) => ({
    surveyId,
    name: `${lot.name} ${i}`,
    brief: { floorAreaFt2: 2000 + 10 * i },
  }));
  const comparison = await post<{ links: { self: string } }>("/v1/comparisons", { parcels });

  const agent = new Agent({ keepAlive: true });
  const times: number[] = [];
  for (let i = 0; i < WARM_UP + GETS; i++) {
    const ms = await timeOf(agent, i % 2 === 0 ? links.report : links.share);
    if (i >= WARM_UP) times.push(ms);
    await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
  }
  agent.destroy();
  const { progress } = (await (await fetch(home + comparison.links.self)).json()) as {
    progress: { done: number; total: number };
  };
  if (progress.done >= progress.total) throw new Error("the studies ended before the questions did");
  times.sort((a, b) => a - b);
  const at = (share: number) => times[Math.min(times.length - 1, Math.floor(share * times.length))]!;
  console.log(JSON.stringify({ p50Ms: at(0.5), p99Ms: at(0.99), gets: times.length }));
} finally {
  await ended(service);
  rmSync(folder, { recursive: true, force: true });
}

async function post<T>(path: string, body: FormData | object): Promise<T> {
  const answer = await fetch(home + path, {
    method: "POST",
    ...(body instanceof FormData
      ? { body }
      : { body: JSON.stringify(body), headers: { "content-type": "application/json" } }),
  });
  if (!answer.ok) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
  return answer.json() as Promise<T>;
}

/** Milliseconds from the question to the last byte. */
function timeOf(agent: Agent, path: string): Promise<number> {
  const start = performance.now();
  return new Promise((resolve, reject) => {
    get(home + path, { agent, headers: { "accept-encoding": "gzip" } }, (answer) => {
      if (answer.statusCode !== 200) reject(new Error(`${path}: ${answer.statusCode}`));
      answer.resume().on("end", () => resolve(performance.now() - start));
    }).on("error", reject);
  });
}

async function untilReady(): Promise<void> {
  for (let i = 0; i < 600; i++) {
    const ready = await fetch(`${home}/readyz`).then(
      ({ ok }) => ok,
      () => false,
    );
    if (ready) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error("the service does not start");
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const probe = createServer().listen(0, "127.0.0.1", () => {
      const address = probe.address();
      probe.close(() => resolve(typeof address === "object" && address ? address.port : 0));
    });
  });
}

/** A killed service loses nothing that is wanted here. */
function ended(child: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    child.once("exit", () => resolve());
    child.kill("SIGKILL");
  });
}
