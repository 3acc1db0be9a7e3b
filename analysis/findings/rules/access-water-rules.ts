/** The way in, and the water. */

import { GRASS_HOLDS_FT_PER_S } from "../../drainage/swale.js";
import { measure, published } from "../../measure.js";
import { SQUARE_FEET_PER_ACRE } from "../../units.js";
import { CORNER_CUT_FT, lengthNearFt, sideLines } from "../drive-in-setback.js";
import { driveOf, graded, PRACTICE, type Rule, WHO } from "../facts.js";

/** A quarter of an acre of hill above a house is water to plan for. Common practice, no source. */
const GATHERED_FT2 = SQUARE_FEET_PER_ACRE / 4;

export const accessWaterRules: readonly Rule[] = [
  {
    code: "ACC-01",
    title: "No driveway within the limit",
    why: "A car cannot reach the house by this rule.",
    next: "Look at a garage at the street, a steeper permit, or another place for the house",
    who: `${WHO.fire}, ${WHO.civil}`,
    source: "grade limit of the request",
    onScheme: ({ access, design }, site) =>
      access.reachable || site.request.brief.garageCars === 0 || design.kind === "fixed-pad"
        ? null
        : {
            severity: "stop",
            measured: access.gentlestGradePct ?? "no path found",
            threshold: site.request.rules.driveway.maxGradePct,
            unit: "% grade",
            basis: site.request.assumed.includes("rules.driveway.maxGradePct") ? "assumed" : "rule given",
            more: access.because,
          },
  },
  {
    code: "ACC-02",
    title: "A steep driveway",
    why: "Steep drives are slippery, and loaded trucks carry less up them.",
    next: "Ask the fire official what grade is accepted",
    who: WHO.fire,
    source: `IFC Appendix D103.2 where adopted (10 % without approval); the rest ${PRACTICE}`,
    onScheme: (scheme) => {
      const drive = driveOf(scheme);
      return drive
        ? graded(
            drive.maxGradePct,
            [
              [12, "watch"],
              [15, "concern"],
              [20, "stop"],
            ],
            "% grade",
          )
        : null;
    },
  },
  {
    code: "ACC-03",
    title: "Far from the street without room to turn",
    why: "A fire engine may not be made to back out of a long dead end.",
    next: "Lay out a turnaround",
    who: WHO.fire,
    source: `IFC 503.2.5 and Appendix D103.4 (${published(150, "ft")}), where adopted`,
    onScheme: (scheme) => {
      const drive = driveOf(scheme);
      return drive && drive.lengthFt > 150 && !drive.turnaround
        ? { severity: "concern", measured: drive.lengthFt, threshold: 150, unit: "ft of drive" }
        : null;
    },
  },
  {
    code: "ACC-04",
    title: "A sharp change of grade",
    why: "Cars scrape where the grade changes too fast.",
    next: "Ease the change over a longer transition",
    who: WHO.civil,
    source: PRACTICE,
    onScheme: (scheme) => {
      const drive = driveOf(scheme);
      if (!drive) return null;
      const { crestPct, sagPct } = sharpestBreaks(drive.profile);
      if (crestPct > 10)
        return {
          severity: "watch",
          measured: crestPct,
          threshold: 10,
          unit: `% change over ${measure(10, "ft")}, crest`,
        };
      return sagPct > 8
        ? {
            severity: "watch",
            measured: sagPct,
            threshold: 8,
            unit: `% change over ${measure(10, "ft")}, sag`,
          }
        : null;
    },
  },
  {
    code: "ACC-05",
    title: "The driveway runs in a side or rear setback",
    why: "Some cities keep drives and their walls out of the room to the neighbor's line, and grading beside a line may need the neighbor's word.",
    next: "Ask whether drives and their walls may lie in setbacks",
    who: WHO.city,
    source: PRACTICE,
    onScheme: (scheme, { request, survey, lot }) => {
      const drive = driveOf(scheme);
      if (!drive) return null;
      const lines = sideLines(survey.boundary, lot.edges);
      const inSetbackFt = lengthNearFt(drive.line, lines, drive.widthFt / 2);
      return inSetbackFt > CORNER_CUT_FT
        ? {
            severity: "watch",
            measured: inSetbackFt,
            threshold: CORNER_CUT_FT,
            unit: "ft of drive in side or rear setbacks",
            basis: request.assumed.includes("rules.setbacksFt") ? "assumed" : "rule given",
          }
        : null;
    },
  },
  {
    code: "WAT-01",
    title: "Water from the hill above",
    why: "Rain from above comes through; where the survey ends, how much is a lower bound.",
    next: "Plan a swale above the house; look at the ground next door",
    who: WHO.civil,
    source: PRACTICE,
    onScheme: ({ drainage }) => {
      const { catchmentFt2, lowerBound } = drainage;
      if (catchmentFt2 <= GATHERED_FT2 && !lowerBound) return null;
      return {
        severity: "watch",
        measured: catchmentFt2,
        threshold: catchmentFt2 > GATHERED_FT2 ? GATHERED_FT2 : "seen to its top",
        unit: `ft² above the house${lowerBound ? ", at least" : ""}`,
      };
    },
  },
  {
    code: "WAT-03",
    title: "A hollow that would hold water",
    why: "Water gathers in a hollow of the ground and has no way out but down.",
    next: "Look at it after rain, and plan a drain or leave it alone",
    who: WHO.civil,
    source: PRACTICE,
    onLot: ({ water }) => {
      const deepest = [...water.depressions].sort((a, b) => b.depthFt - a.depthFt)[0];
      return deepest
        ? { severity: "watch", measured: deepest.depthFt, threshold: 0.5, unit: "ft deep hollow" }
        : null;
    },
  },
  {
    code: "WAT-02",
    title: "Water with no place to go by itself",
    why: "Water needs a legal place to run out by gravity; pumps fail in storms, when they are needed.",
    next: "Ask for an outlet right, or plan two pumps, an alarm and backup power",
    who: `${WHO.civil}, ${WHO.seller}`,
    source: `IRC R405.1; ${PRACTICE}`,
    onScheme: ({ drainage }) => {
      const noGravity = drainage.tiers.filter((t) => !t.gravity);
      return noGravity.length > 0
        ? {
            severity: "concern",
            measured: noGravity.map((t) => t.tier.replaceAll("-", " ")).join(", "),
            threshold: "runs out by gravity",
          }
        : null;
    },
  },
  {
    code: "WAT-04",
    title: "Water let out close to the lot line",
    why: "Gathered water that runs out near the line soon runs onto the neighbor.",
    next: "Ask for a right to let it out there, or lead it to the street or farther in",
    who: `${WHO.civil}, ${WHO.seller}`,
    source: PRACTICE,
    onScheme: ({ drainage }, site) => {
      const limit = site.request.rules.drainage.outletFromLineFt;
      const nearest = Math.min(Infinity, ...drainage.tiers.map((t) => t.outletToLineFt ?? Infinity));
      return nearest < limit
        ? { severity: "concern", measured: nearest, threshold: limit, unit: "ft from outlet to lot line" }
        : null;
    },
  },
  {
    code: "WAT-05",
    title: "A blocked drain sends water next door",
    why: "When an inlet or a ditch is blocked, water runs over the ground, and here it runs onto the neighbor.",
    next: "Grade a way to the street, or ask how the water may leave",
    who: WHO.civil,
    source: PRACTICE,
    onScheme: ({ drainage }) =>
      drainage.overflow?.toward === "neighbor"
        ? { severity: "watch", measured: "toward a neighbor", threshold: "toward the street" }
        : null,
  },
  {
    code: "WAT-06",
    title: "Ditch water faster than grass holds",
    why: "Fast water washes a grass ditch out in one storm.",
    next: "Line the steep stretches with rock, or lead the water down a pipe",
    who: WHO.civil,
    source: PRACTICE,
    onScheme: ({ drainage: { swale } }) =>
      swale?.lined
        ? {
            severity: "watch",
            measured: swale.fastestFtPerS,
            threshold: GRASS_HOLDS_FT_PER_S,
            unit: "ft a second",
          }
        : null,
  },
  {
    code: "WAT-07",
    title: "The driveway crosses more water than one pipe carries",
    why: "A drive that dams running water is washed away, and the house is cut off.",
    next: "Have the crossing designed, or lead the drive another way",
    who: WHO.civil,
    source: PRACTICE,
    onScheme: ({ drainage }) => {
      const wide = drainage.crossings.filter((crossing) => crossing.pipeIn === null);
      const most = Math.max(0, ...wide.map((crossing) => crossing.peak100Cfs));
      return wide.length > 0
        ? { severity: "concern", measured: most, threshold: "one pipe", unit: "cfs, 100-year rain" }
        : null;
    },
  },
];

/** Largest change of grade between neighbouring 10 ft stretches. */
function sharpestBreaks(profile: readonly { readonly stationFt: number; readonly gradeFt: number }[]): {
  crestPct: number;
  sagPct: number;
} {
  const at = (s: number): number => {
    let i = 1;
    while (i < profile.length - 1 && profile[i]!.stationFt < s) i++;
    const [a, b] = [profile[i - 1]!, profile[i]!];
    const run = b.stationFt - a.stationFt || 1;
    return a.gradeFt + ((s - a.stationFt) / run) * (b.gradeFt - a.gradeFt);
  };
  const length = profile.at(-1)?.stationFt ?? 0;
  let crestPct = 0;
  let sagPct = 0;
  for (let s = 10; s + 10 <= length; s += 2) {
    const change = ((at(s + 10) - at(s)) / 10 - (at(s) - at(s - 10)) / 10) * 100;
    if (change > sagPct) sagPct = change;
    if (-change > crestPct) crestPct = -change;
  }
  return { crestPct, sagPct };
}
