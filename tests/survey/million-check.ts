/** Reads a million shots in a process of its own and tells how much memory it took above the idle one. Run by million.test.ts. */
import { understandRequest } from "../../analysis/request/index.js";
import { readSurvey } from "../../analysis/survey/index.js";

const COUNT = 1_000_000;
const SIDE_FT = 1_320;

/** Rows of a million shots on a plane, scattered by a fixed rule, with every thousandth row unusual. */
function table(): Uint8Array {
  const bytes = new Uint8Array(COUNT * 52);
  const encoder = new TextEncoder();
  let length = encoder.encodeInto("point,northing,easting,elevation,description\n", bytes).written;
  for (let i = 0; i < COUNT; i++) {
    const x = (i * 0.754877666 * SIDE_FT) % SIDE_FT;
    const y = (i * 0.569840291 * SIDE_FT) % SIDE_FT;
    const z = (500 + 0.1 * x + 0.05 * y).toFixed(2);
    const height = i % 1000 === 0 ? `"${z}"` : z;
    const row = `${i + 1},${(2_000_000 + y).toFixed(3)},${(6_000_000 + x).toFixed(3)},${height},GS\n`;
    length += encoder.encodeInto(row, bytes.subarray(length)).written;
  }
  return bytes.subarray(0, length);
}

const [x, y] = [6_000_000, 2_000_000];
const input = {
  survey: { unit: "us-ft" as const },
  boundary: {
    ring: [
      [x + 100, y + 100],
      [x + 1_200, y + 100],
      [x + 1_200, y + 1_200],
      [x + 100, y + 1_200],
    ] as [number, number][],
  },
};
const { request } = understandRequest(input);
const bytes = table();
const idleKb = process.resourceUsage().maxRSS;
const reading = await readSurvey({ input, request, files: { topo: { name: "topo.csv", bytes } } });
const peakKb = process.resourceUsage().maxRSS;
if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
console.log(
  JSON.stringify({
    used: reading.survey.summary.pointsUsed,
    excluded: reading.survey.summary.excluded.length,
    aboveIdleMb: (peakKb - idleKb) / 1024,
  }),
);
