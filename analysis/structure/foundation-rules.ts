/**
 * What speaks for which foundation: rules F0 to F8, tried in order. Common practice, no source, where no code is named.
 * Each tells, beside its reason, what a survey or a soils engineer would have to find for it to fall away.
 */
import { measure } from "../measure.js";
import { STRADDLE_FILL_FT } from "../schemes/index.js";
import type { FoundationKind, SlopeSetback } from "./structure.js";

/** What the rules look at. */
export interface FoundationFacts {
  /** 90th percentile of the natural slope under the house. */
  readonly slopePct: number;
  readonly fillUnderHouseFt: number;
  /** Part of the house on cut, part on fill. */
  readonly straddles: boolean;
  readonly basement: "none" | "open downhill" | "all round";
  readonly raised: boolean;
  readonly expansive: boolean | "unknown";
  readonly depthToFirmFt: number | null;
  readonly mappedSlide: boolean;
  readonly unmetSetbacks: readonly SlopeSetback[];
  readonly surveyed: boolean;
  readonly shotsApartFt: number;
}

export interface FoundationRule {
  readonly rule: "F0" | "F1" | "F2" | "F3" | "F4" | "F5" | "F6" | "F7" | "F8";
  readonly standing?: "cannot-tell" | "specialist-first";
  readonly holds: (facts: FoundationFacts) => boolean;
  readonly kind: FoundationKind | ((facts: FoundationFacts) => FoundationKind);
  /** Next choice where no other rule that holds names one. */
  readonly otherwise: FoundationKind;
  readonly reason: string;
  /** What would have to be found for this reason to fall away, and what would be likely then. */
  readonly fallsAway: string | ((facts: FoundationFacts) => string);
}

const LIMITS = {
  specialistSlopePct: 50,
  pierSlopePct: 20,
  slabSlopePct: 10,
  fillFt: 3,
  straddleFillFt: STRADDLE_FILL_FT,
  slabFillFt: 1.5,
  looseFt: 5,
  shotsApartFt: 50,
} as const;

/** By slope alone. */
export function usualKind({ slopePct }: FoundationFacts): FoundationKind {
  if (slopePct > LIMITS.pierSlopePct) return "pier-and-grade-beam";
  return slopePct > LIMITS.slabSlopePct ? "raised" : "slab";
}

const SOFT_GROUND = `old fill, loose soil or creep deeper than ${measure(5, "ft")}: drilled piers are likely to be asked for instead`;

export const FOUNDATION_RULES: readonly FoundationRule[] = [
  {
    rule: "F0",
    standing: "cannot-tell",
    holds: ({ surveyed }) => !surveyed,
    kind: usualKind,
    otherwise: "raised",
    reason: "the survey does not show all the ground around the house",
    fallsAway: `shots over all the ground to ${measure(10, "ft")} beyond the house: a likely kind can be told then`,
  },
  {
    rule: "F0",
    standing: "cannot-tell",
    holds: ({ shotsApartFt, slopePct }) =>
      shotsApartFt > LIMITS.shotsApartFt && slopePct > LIMITS.pierSlopePct,
    kind: usualKind,
    otherwise: "raised",
    reason: "the shots are too far apart for ground this steep",
    fallsAway: `shots at most ${measure(50, "ft")} apart under and around the house: a likely kind can be told then`,
  },
  {
    rule: "F1",
    standing: "specialist-first",
    holds: ({ slopePct }) => slopePct > LIMITS.specialistSlopePct,
    kind: "pier-and-grade-beam",
    otherwise: "raised",
    reason: "the ground under the house is steeper than 1 in 2: a soils engineer speaks first",
    fallsAway:
      "soils and geology reports the city accepts for ground steeper than 1 in 2 (Los Angeles asks for them, Municipal Code 91.7014.1), or a place on gentler ground",
  },
  {
    rule: "F1",
    standing: "specialist-first",
    holds: ({ mappedSlide }) => mappedSlide,
    kind: "pier-and-grade-beam",
    otherwise: "raised",
    reason: "the lot is mapped for landslides: a geologist and a soils engineer speak first",
    fallsAway: "a geologist who finds that the mapped slide does not reach under or above the house",
  },
  {
    rule: "F1",
    standing: "specialist-first",
    holds: ({ unmetSetbacks }) => unmetSetbacks.length > 0,
    kind: "pier-and-grade-beam",
    otherwise: "raised",
    reason: "the house stands closer to steep ground than the published setback (IRC R403.1.7)",
    fallsAway: ({ unmetSetbacks }) => {
      const room = unmetSetbacks.map(
        ({ direction, requiredFt, availableFt }) =>
          `${measure(requiredFt - availableFt, "ft", 0.1)} more room to the slope ${direction === "ascending" ? "rising above" : "falling below"} it`,
      );
      return `a soils report the city accepts for standing closer (IRC R403.1.7.4), or ${room.join(" and ")}`;
    },
  },
  {
    rule: "F7",
    holds: ({ basement }) => basement === "open downhill",
    kind: "pier-and-grade-beam",
    otherwise: "slab",
    reason:
      "the uphill basement wall stands on a wide footing in the cut; the open downhill row is likely to be carried by piers down to the same firm ground",
    fallsAway:
      "the same firm ground at the bottom of the dig under the downhill row too: wide footings all round, without piers",
  },
  {
    rule: "F7",
    holds: ({ basement }) => basement === "all round",
    kind: "slab",
    otherwise: "pier-and-grade-beam",
    reason: "the basement walls stand on wide footings in the cut, with a slab between them",
    fallsAway: "soft or wet ground at the bottom of the dig: a mat under the whole floor, or drilled piers",
  },
  {
    rule: "F8",
    holds: ({ raised }) => raised,
    kind: "pier-and-grade-beam",
    otherwise: "raised",
    reason: "the house stands above the ground, which is left as it is",
    fallsAway: "rock or firm ground close to the surface under the whole house: posts on footings",
  },
  {
    rule: "F2",
    holds: ({ slopePct }) => slopePct > LIMITS.pierSlopePct,
    kind: "pier-and-grade-beam",
    otherwise: "raised",
    reason: "the ground under the house is steeper than 1 in 5",
    fallsAway:
      "rock or firm ground close to the surface under the whole house: a raised floor on stepped footings",
  },
  {
    rule: "F2",
    holds: ({ fillUnderHouseFt }) => fillUnderHouseFt > LIMITS.fillFt,
    kind: "pier-and-grade-beam",
    otherwise: "raised",
    reason: `new fill under the house is deeper than ${measure(3, "ft")} and goes on settling`,
    fallsAway: ({ fillUnderHouseFt }) =>
      `fill that is tested as it is laid and accepted under a house, or a level ${measure(fillUnderHouseFt - LIMITS.fillFt, "ft", 0.1)} lower so that it is at most ${measure(3, "ft")} deep: footings through the fill`,
  },
  {
    rule: "F2",
    holds: ({ straddles, fillUnderHouseFt }) => straddles && fillUnderHouseFt > LIMITS.straddleFillFt,
    kind: "pier-and-grade-beam",
    otherwise: "raised",
    reason:
      "part of the house would sit on cut and part on new fill; the two settle differently, so the whole house is likely to be carried down to the same firm ground",
    fallsAway: ({ fillUnderHouseFt }) =>
      `a cut side the engineer lets be dug out and filled again like the other, so that both settle alike, or a level ${measure(fillUnderHouseFt - LIMITS.straddleFillFt, "ft", 0.1)} lower so that the fill is at most ${measure(LIMITS.straddleFillFt, "ft")} deep: footings`,
  },
  {
    rule: "F3",
    holds: ({ expansive, slopePct }) => expansive === true && slopePct > LIMITS.slabSlopePct,
    kind: "pier-and-grade-beam",
    otherwise: "raised",
    reason: "the clay swells when it gets wet (IBC 1803.5.3)",
    fallsAway: "an expansion index of 20 or less in the soil under the house (IBC 1803.5.3)",
  },
  {
    rule: "F3",
    holds: ({ expansive, slopePct }) => expansive === true && slopePct <= LIMITS.slabSlopePct,
    kind: "raised",
    otherwise: "slab",
    reason: "the clay swells when it gets wet (IBC 1803.5.3)",
    fallsAway:
      "an expansion index of 20 or less in the soil under the house (IBC 1803.5.3), or an engineer who stiffens the slab for it: a slab",
  },
  {
    rule: "F4",
    holds: ({ depthToFirmFt }) => depthToFirmFt !== null && depthToFirmFt > LIMITS.looseFt,
    kind: "pier-and-grade-beam",
    otherwise: "raised",
    reason: `firm ground lies deeper than ${measure(5, "ft")}`,
    fallsAway: `firm ground within ${measure(5, "ft")} of the surface under the whole house: footings`,
  },
  {
    rule: "F5",
    holds: ({ slopePct, fillUnderHouseFt }) =>
      slopePct <= LIMITS.pierSlopePct && slopePct > LIMITS.slabSlopePct && fillUnderHouseFt <= LIMITS.fillFt,
    kind: "raised",
    otherwise: "pier-and-grade-beam",
    reason: "the ground is between 1 in 10 and 1 in 5, with little fill: a raised floor on stepped footings",
    fallsAway: SOFT_GROUND,
  },
  {
    rule: "F6",
    holds: ({ slopePct, fillUnderHouseFt, expansive }) =>
      slopePct <= LIMITS.slabSlopePct && fillUnderHouseFt <= LIMITS.slabFillFt && expansive !== true,
    kind: "slab",
    otherwise: "raised",
    reason: "the ground is gentle and the house sits on cut or on thin compacted fill",
    fallsAway: SOFT_GROUND,
  },
  {
    rule: "F6",
    holds: ({ slopePct, fillUnderHouseFt }) =>
      slopePct <= LIMITS.slabSlopePct &&
      fillUnderHouseFt > LIMITS.slabFillFt &&
      fillUnderHouseFt <= LIMITS.fillFt,
    kind: "raised",
    otherwise: "slab",
    reason: `the ground is gentle, but fill under the house is deeper than ${measure(1.5, "ft")}: a raised floor on footings that reach through it`,
    fallsAway: "fill that is tested as it is laid and accepted under a house: a slab",
  },
];
