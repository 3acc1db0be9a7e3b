/** Steepness, and what steep ground hides. */

import { distanceToRingFt, type Point } from "../../geometry/plane.js";
import { elevationAt } from "../../terrain/index.js";
import { SQUARE_FEET_PER_ACRE } from "../../units.js";
import { graded, type Hit, PRACTICE, type Rule, type SchemeFacts, type StudyFacts, WHO } from "../facts.js";

/** A level spot flatter than this, larger than that, with ground steeper than this below it. */
const BENCH = { maxSlopePct: 8, minAreaFt2: 1000, steepBelowPct: 25 } as const;
/** Water gathers on any long slope; a hollow also has ground this much higher to both sides of it. */
const HOLLOW = { catchmentFt2: SQUARE_FEET_PER_ACRE / 4, nearFt: 15, sideFt: 20, riseFt: 1 } as const;

export const slopeRules: readonly Rule[] = [
  {
    code: "SLP-01",
    title: "Hillside rules may apply",
    why: "Many hillside rules start at an average slope near 15 %.",
    next: "Ask whether the lot falls under hillside rules",
    who: WHO.city,
    source: PRACTICE,
    onLot: ({ site }) => graded(averageSlopePct(site), [[15, "info"]], "% average slope"),
  },
  {
    code: "SLP-02",
    title: "Steep ground under the house",
    why: "Every step up in steepness adds walls, deep foundations and dirt.",
    next: "Have a soils engineer walk the place",
    who: WHO.soils,
    source: PRACTICE,
    onScheme: ({ design }) =>
      graded(
        design.slopeUnderHousePct.p90,
        [
          [25, "watch"],
          [35, "concern"],
          [50, "stop"],
        ],
        "% slope under the house",
      ),
  },
  {
    code: "SLP-03",
    title: "Steep ground too close to the house",
    why: "A house must stand back from steep ground, or be specially founded.",
    next: "Check the setback from the slope, or found deeper",
    who: WHO.soils,
    source: "IRC R403.1.7 and IBC 1808.7, as adopted locally (distances from memory)",
    onScheme: ({ structure }) => {
      const unmet = structure.slopeSetbacks
        .filter((s) => !s.met)
        .sort((a, b) => b.requiredFt - b.availableFt - (a.requiredFt - a.availableFt))[0];
      return unmet
        ? {
            severity: "concern",
            measured: unmet.availableFt,
            threshold: unmet.requiredFt,
            unit: `ft from the ${unmet.direction} slope`,
          }
        : null;
    },
  },
  {
    code: "SLP-04",
    title: "A level spot on a hill",
    why: "A level spot above steep ground is often somebody's old loose fill.",
    next: "Dig test pits or drill borings there",
    who: WHO.soils,
    source: PRACTICE,
    onLot: ({ site }) => {
      const benchFt2 = largestBenchFt2({ site });
      return benchFt2 > BENCH.minAreaFt2
        ? {
            severity: "watch",
            measured: benchFt2,
            threshold: BENCH.minAreaFt2,
            unit: "ft² of level ground above a steep face",
          }
        : null;
    },
  },
  {
    code: "SLP-05",
    title: "A hollow runs past the house",
    why: "Loose soil and water gather in hollows.",
    next: "Drill there, or move the house",
    who: WHO.soils,
    source: PRACTICE,
    onLot: ({ site, water }, best) => (best ? hollowNear(site, water.streams, best) : null),
  },
  {
    code: "SLP-06",
    title: "Nobody has said whether this hill moves",
    why: "Ground this steep is often mapped for landslides, and no answer was given.",
    next: "Look up the landslide map; ask for any geology report",
    who: WHO.soils,
    source: PRACTICE,
    onLot: ({ site }, best) => {
      const steep = best?.design.slopeUnderHousePct.p90 ?? site.terrain.summary.meanSlopePct;
      return steep > 25 && site.request.hazards.landslide === "unknown"
        ? {
            severity: "watch",
            measured: steep,
            threshold: 25,
            unit: "% slope, landslide map unknown",
            basis: "assumed",
          }
        : null;
    },
  },
];

/** With fewer contours than this on the lot, it is chance where they fall and how long they are. Judgement. */
const FEWEST_CONTOURS = 3;

/** By the contours, as hillside rules ask; on ground too level for them, by the facets. */
function averageSlopePct({ terrain: { summary } }: StudyFacts["site"]): number {
  const { pct, intervalFt } = summary.averageSlope;
  return summary.reliefFt < FEWEST_CONTOURS * intervalFt ? summary.meanSlopePct : pct;
}

function hollowNear(
  site: StudyFacts["site"],
  streams: StudyFacts["water"]["streams"],
  best: SchemeFacts,
): Hit | null {
  let worst: Hit | null = null;
  for (const stream of streams) {
    if (stream.catchmentFt2 <= HOLLOW.catchmentFt2) continue;
    const away = Math.min(
      ...stream.line
        .filter((_, i) => inHollow(site, stream.line, i))
        .map((point) => distanceToRingFt(best.design.footprint, point)),
    );
    if (away < HOLLOW.nearFt && (worst === null || away < Number(worst.measured)))
      worst = {
        severity: "concern",
        measured: away,
        threshold: HOLLOW.nearFt,
        unit: "ft from a line of gathered water",
      };
  }
  return worst;
}

/** Whether the ground rises to both sides of a line of flow at its i-th point. */
function inHollow({ terrain }: StudyFacts["site"], line: readonly Point[], i: number): boolean {
  const [x, y] = line[i]!;
  // a few points up and down the line, so that the steps of its cells do not turn the direction
  const [a, b] = [line[Math.max(0, i - 3)]!, line[Math.min(line.length - 1, i + 3)]!];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length === 0) return false;
  const [across, up] = [(-(b[1] - a[1]) / length) * HOLLOW.sideFt, ((b[0] - a[0]) / length) * HOLLOW.sideFt];
  const here = elevationAt(terrain.tin, x, y);
  const sides = [elevationAt(terrain.tin, x + across, y + up), elevationAt(terrain.tin, x - across, y - up)];
  return sides.every((side) => side - here > HOLLOW.riseFt);
}

/** Largest connected patch of level cells that touches steeper ground on its lower side. */
function largestBenchFt2({ site }: Pick<StudyFacts, "site">): number {
  const { slope, elevation } = site.terrain;
  const { cols, rows, cellFt } = slope.grid;
  const seen = new Uint8Array(cols * rows);
  const steps = [1, -1, cols, -cols];
  let largest = 0;
  for (let start = 0; start < seen.length; start++) {
    if (seen[start] || !(slope.values[start]! < BENCH.maxSlopePct)) continue;
    const patch = [start];
    seen[start] = 1;
    let steepBelow = false;
    for (let k = 0; k < patch.length; k++) {
      const cell = patch[k]!;
      for (const step of steps) {
        const next = cell + step;
        const wraps = Math.abs(step) === 1 && Math.floor(next / cols) !== Math.floor(cell / cols);
        if (next < 0 || next >= seen.length || wraps || seen[next]) continue;
        if (slope.values[next]! < BENCH.maxSlopePct) {
          seen[next] = 1;
          patch.push(next);
        } else if (
          slope.values[next]! > BENCH.steepBelowPct &&
          elevation.values[next]! < elevation.values[cell]!
        )
          steepBelow = true;
      }
    }
    if (steepBelow) largest = Math.max(largest, patch.length * cellFt * cellFt);
  }
  return largest;
}
