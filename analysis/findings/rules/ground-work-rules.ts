/** Cuts, fills, dirt on the road, and walls. */

import { distanceToRingFt } from "../../geometry/plane.js";
import { measure, published } from "../../measure.js";
import { SQUARE_FEET_PER_ACRE } from "../../units.js";
import { graded, PRACTICE, type Rule, tallestSiteWallFt, WHO } from "../facts.js";

/** Below one truckload the share of uncertainty says nothing. */
const TRUCKLOAD_YD3 = 12;

export const groundWorkRules: readonly Rule[] = [
  {
    code: "ERT-01",
    title: "A deep cut",
    why: "Deep cuts need walls or braced sides and threaten the ground above them.",
    next: "Look at a shallower way to build; ask an engineer",
    who: WHO.soils,
    source: `29 CFR 1926.652 for the ${published(20, "ft")} limit; the rest ${PRACTICE}`,
    onScheme: ({ design }) =>
      graded(
        Math.max(design.earthwork.maxCutFt, design.earthwork.temporaryCutFt),
        [
          [8, "watch"],
          [12, "concern"],
          [20, "stop"],
        ],
        "ft of cut",
      ),
  },
  {
    code: "ERT-02",
    title: "Fill under the house",
    why: "New fill goes on settling for years.",
    next: "Carry the house on drilled posts to firm ground, or move it",
    who: WHO.soils,
    source: PRACTICE,
    onScheme: ({ design }) =>
      graded(design.straddle.maxFillUnderHouseFt, [[3, "concern"]], "ft of fill under the house"),
  },
  {
    code: "ERT-03",
    title: "Half on cut, half on fill",
    why: "One half of the house would stand on hard ground and the other on soft: that is how houses crack.",
    next: "Found the whole house on the same firm ground",
    who: WHO.structural,
    source: PRACTICE,
    onScheme: ({ design }) =>
      design.straddle.daylightUnderHouse
        ? graded(
            design.straddle.maxFillUnderHouseFt,
            [[2, "watch"]],
            "ft of fill beyond the line between cut and fill",
          )
        : null,
  },
  {
    code: "ERT-04",
    title: "A bank that would not stay on the lot",
    why: "On this slope a sloped bank runs away uphill or downhill and leaves the lot before it meets the ground.",
    next: "Plan a wall instead of a bank",
    who: WHO.civil,
    source:
      "geometry: a bank of run b per rise on slope s meets the ground at 1 ÷ (1 − b·s) of its edge height",
    onScheme: ({ design }) =>
      design.problems.some(({ code }) => code === "batter-leaves-lot")
        ? { severity: "concern", measured: "reaches the lot line", threshold: "stays on the lot" }
        : null,
  },
  {
    code: "ERT-05",
    title: "The hole for the basement reaches far",
    why: "The temporary cut is very high, or would undercut land that is not yours.",
    next: "Price bracing for the cut; ask the neighbor; ask an engineer",
    who: `${WHO.soils}, ${WHO.seller}`,
    source: "29 CFR 1926.652",
    onScheme: ({ design }) => {
      if (!design.temporary) return null;
      if (design.earthwork.temporaryLeavesLot)
        return {
          severity: "concern",
          measured: design.earthwork.temporaryReachFt,
          threshold: "stays on the lot",
          unit: "ft of reach",
        };
      return graded(design.earthwork.temporaryCutFt, [[20, "concern"]], "ft high temporary cut");
    },
  },
  {
    code: "ERT-06",
    title: "Many truckloads",
    why: "Each load passes the neighbors twice.",
    next: "Ask about a haul permit, the route and the hours",
    who: WHO.city,
    source: PRACTICE,
    onScheme: ({ cost }) =>
      graded(
        Math.round(cost.hauledLoads.p50),
        [
          [40, "watch"],
          [150, "concern"],
        ],
        "truckloads",
      ),
  },
  {
    code: "ERT-07",
    title: "More dirt than some places allow without more rules",
    why: `Many places add rules when more than ${published([500, 1000], "cubic yards", " or ")} move.`,
    next: "Ask for the local grading limit and whether a basement counts",
    who: WHO.city,
    source: `Yucaipa CA grading rules above ${published(1000, "yd³")}, as one example`,
    onScheme: ({ design }) =>
      graded(
        design.earthwork.looseExportYd3,
        [
          [500, "watch"],
          [1000, "watch"],
        ],
        "yd³ leaving, loose",
      ),
  },
  {
    code: "ERT-08",
    title: "An acre or more is disturbed",
    why: "From one acre on, a stormwater permit and plan are usual.",
    next: "Ask for the construction stormwater permit",
    who: WHO.civil,
    source: "40 CFR 122.26 (one acre), from memory",
    onScheme: ({ design }) =>
      design.earthwork.disturbedFt2 >= SQUARE_FEET_PER_ACRE
        ? {
            severity: "concern",
            measured: design.earthwork.disturbedFt2,
            threshold: SQUARE_FEET_PER_ACRE,
            unit: "ft² disturbed",
          }
        : null,
  },
  {
    code: "ERT-09",
    title: "The dirt number is soft",
    why: "The survey is too coarse for the dirt number to be held to.",
    next: "Better shots under the house before anyone prices the dirt",
    who: WHO.surveyor,
    source: PRACTICE,
    onScheme: ({ design }) => {
      const { bankCutYd3, compactedFillYd3, uncertaintyYd3 } = design.earthwork;
      const moved = Math.max(bankCutYd3, compactedFillYd3);
      return moved > TRUCKLOAD_YD3
        ? graded((100 * uncertaintyYd3) / moved, [[25, "watch"]], "% of the volume")
        : null;
    },
  },
  {
    code: "WAL-01",
    title: "Walls that need a design and a permit",
    why: `A wall over ${published(4, "ft")} from the bottom of its footing, or with a slope or drive above it, needs an engineer; some places start at ${published([2, 3], "ft", " or ")}.`,
    next: "Have the walls designed",
    who: WHO.structural,
    source: "IBC 105.2 / IRC R105.2",
    onScheme: ({ design }) => {
      const site = design.walls.filter((w) => w.kind === "site");
      const tallest = Math.max(0, ...site.map((w) => w.totalFt));
      if (tallest > 4)
        return { severity: "info", measured: tallest, threshold: 4, unit: "ft, footing included" };
      return site.some((w) => w.surcharge)
        ? { severity: "info", measured: "ground or drive above a wall", threshold: "level ground above" }
        : null;
    },
  },
  {
    code: "WAL-02",
    title: "A tall wall outside the house",
    why: "Cost and risk climb faster than height, and two walls close together act like one tall wall.",
    next: "Spread the height over terraces, or choose another way to build",
    who: WHO.structural,
    source: PRACTICE,
    onScheme: (scheme) => {
      const tallest = tallestSiteWallFt(scheme);
      const hit = graded(
        tallest,
        [
          [6, "watch"],
          [8, "concern"],
          [12, "stop"],
        ],
        "ft of wall",
      );
      const terraced = scheme.design.walls.some((wall) => wall.tier);
      return hit && (terraced ? hit : { ...hit, more: terraceWords(tallest) });
    },
  },
  {
    code: "WAL-03",
    title: "A wall close to the lot line",
    why: "The footing and the drain of a wall may need land next door, and some cities forbid walls there.",
    next: "Move the wall, or ask what may stand in the setback",
    who: WHO.city,
    source: PRACTICE,
    onScheme: ({ design }, site) => {
      let nearest = Infinity;
      for (const wall of design.walls)
        if (wall.kind === "site")
          for (const point of wall.line)
            nearest = Math.min(nearest, distanceToRingFt(site.survey.boundary, point));
      return nearest < 5
        ? { severity: "concern", measured: nearest, threshold: 5, unit: "ft from the line" }
        : null;
    },
  },
];

/** Walls up to this height are the plain kind; walls act apart when this many times the lower one's height lies between them. Common practice, no source. */
const TERRACE = { wallFt: 4, apart: 2 } as const;

function terraceWords(heightFt: number): string {
  const walls = Math.ceil(heightFt / TERRACE.wallFt);
  const each = heightFt / walls;
  return `As terraces it would be ${walls} walls of about ${measure(each, "ft", 0.1)} with ${measure(Math.ceil(TERRACE.apart * each), "ft", 1)} of level ground between them.`;
}
