/**
 * Studies of invented lots, made before anybody asks: what a thread has not run yet is not compiled, and the first study in a
 * thread costs several times a later one.
 */
import type { CostBook } from "../../analysis/book/book.js";
import { requestSchema } from "../../analysis/request/index.js";
import { makeStudy, type StudyTools } from "./make-study.js";
import type { StudyTask } from "./work.js";

/** Slopes of the lots in turn, percent: gentle ground builds other ways than steep. */
const GRADES_PCT = [18, 28] as const;
const WIDTH_FT = 150;
const SPACING_FT = 15;
const BEYOND_FT = 30;

/** Thrown at a step when the thread is wanted. */
class GaveWay extends Error {}

/**
 * @param turn which of the lots, from 0
 * @param giveWay asked before every step: whether the thread is wanted for something else
 * @returns whether it came to the end.
 */
export async function studyInvented(
  turn: number,
  book: CostBook,
  tools: StudyTools,
  giveWay: () => boolean,
): Promise<boolean> {
  const onStep = () => {
    if (giveWay()) throw new GaveWay();
  };
  try {
    const made = await makeStudy(taskOn(GRADES_PCT[turn % GRADES_PCT.length]!, book), tools, onStep);
    if (!made.ok) throw new Error(`the warm-up is refused: ${JSON.stringify(made.problems)}`);
    return true;
  } catch (error) {
    if (error instanceof GaveWay) return false;
    throw error;
  }
}

/** A square lot with its street on the south and gently rolling ground, as files of a surveyor. */
function taskOn(gradePct: number, book: CostBook): StudyTask {
  const topo = ["point,northing,easting,elevation,description"];
  for (let east = -BEYOND_FT; east <= WIDTH_FT + BEYOND_FT; east += SPACING_FT)
    for (let north = -BEYOND_FT; north <= WIDTH_FT + BEYOND_FT; north += SPACING_FT) {
      const swell = 2 * Math.sin(east / 30) + 1.5 * Math.cos((east + north) / 20);
      topo.push(`${topo.length},${north},${east},${(500 + (gradePct / 100) * north + swell).toFixed(2)},GS`);
    }
  const corners = [
    [0, 0],
    [0, WIDTH_FT],
    [WIDTH_FT, WIDTH_FT],
    [WIDTH_FT, 0],
  ];
  const boundary = ["corner,northing,easting", ...corners.map((corner, i) => `${i + 1},${corner.join()}`)];
  return {
    input: requestSchema.parse({ name: "Warm-up", survey: { unit: "ft" }, access: { frontage: [0] } }),
    files: { topo: fileOf("topo.csv", topo), boundary: fileOf("boundary.csv", boundary) },
    book,
    frame: { id: "warm-up", token: "warm-up", createdAt: "2026-01-01T00:00:00Z", parent: null, ref: null },
    before: null,
  };
}

function fileOf(name: string, rows: readonly string[]) {
  return { name, bytes: new TextEncoder().encode(`${rows.join("\n")}\n`) };
}
