/** Studies a second through the service's own pool of two worker threads, reports included: prints the number. */
import { readFileSync } from "node:fs";
import { parseCostBook } from "../../analysis/book/index.js";
import { requestSchema } from "../../analysis/request/index.js";
import { openThreadPool } from "../../server/tasks/thread-pool.js";
import { SEEDED_LOTS, writeLot } from "./seeded-lots.js";

const WARM_UP = 6;
const STUDIES = 24;

const lot = SEEDED_LOTS[Number(process.argv[2])]!;
const { topo, boundary } = writeLot(lot);
const book = parseCostBook(JSON.parse(readFileSync("demo-data/cost-book.json", "utf8")));
if (!book.ok) throw new Error("the cost book does not parse");
const pool = openThreadPool({ threads: 2, kept: 2, studySeconds: 600 }, (error) => {
  throw error;
});
const study = async (n: number) => {
  const made = await pool.study({
    input: requestSchema.parse({
      name: `${lot.name} ${n}`,
      survey: { unit: "ft" },
      access: { frontage: [0] },
      utilities: { sewer: "yes" },
    }),
    // copies: files are moved into the thread
    files: {
      topo: { name: "topo.csv", bytes: topo.slice() },
      boundary: { name: "boundary.csv", bytes: boundary.slice() },
    },
    book: book.book,
    frame: { id: `bench-${n}`, token: "bench", createdAt: "2026-01-01T00:00:00Z", parent: null, ref: null },
    before: null,
  });
  if (!made.ok) throw new Error(JSON.stringify(made.problems));
};
await Promise.all(Array.from({ length: WARM_UP }, (_, n) => study(n)));
const start = performance.now();
await Promise.all(Array.from({ length: STUDIES }, (_, n) => study(n)));
console.log((1000 * STUDIES) / (performance.now() - start));
await pool.close();
