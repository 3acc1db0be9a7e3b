/** Room to build, and the right to. */
import { isAssumed } from "../../request/request.js";
import { type Hit, PRACTICE, type Rule, type StudyFacts, WHO } from "../facts.js";

/** Graded strip on four sides of a plain rectangle of the brief's floor area: what one house needs. */
export function neededGroundFt2({ site }: Pick<StudyFacts, "site">): number {
  const { brief, rules } = site.request;
  const { widthFt, depthFt } = brief.footprint ?? squareOf(brief.floorAreaFt2 / brief.storeys);
  const { uphill, side, downhill } = rules.apronFt;
  return (widthFt + 2 * side) * (depthFt + uphill + downhill);
}

function squareOf(area: number): { widthFt: number; depthFt: number } {
  return { widthFt: Math.sqrt(area), depthFt: Math.sqrt(area) };
}

/** Buildable ground at another slope limit, read off the study's own curve; null outside it. */
export function buildableAtLimit({ site }: StudyFacts, limitPct: number): number | null {
  const curve = site.lot.buildable.bySlopeLimit;
  for (let i = 0; i + 1 < curve.length; i++) {
    const [a, b] = [curve[i]!, curve[i + 1]!];
    if (limitPct < a.limitPct || limitPct > b.limitPct) continue;
    return a.areaFt2 + ((limitPct - a.limitPct) / (b.limitPct - a.limitPct)) * (b.areaFt2 - a.areaFt2);
  }
  return null;
}

export const lotRules: readonly Rule[] = [
  {
    code: "LOT-01",
    title: "Nobody has said that this is a legal lot",
    why: "Some parcels are drawn on a map but may not be built on.",
    next: "Ask for a certificate of compliance or the permit history",
    who: WHO.city,
    source: PRACTICE,
    onLot: () => ({
      severity: "concern",
      measured: "not confirmed",
      threshold: "confirmed in writing",
      basis: "assumed",
    }),
  },
  {
    code: "LOT-02",
    title: "No street side given, or a narrow one",
    why: "You need a legal way in.",
    next: "Show where the lot touches a street, or the recorded right to cross",
    who: WHO.seller,
    source: PRACTICE,
    onLot: ({ site }) => {
      if (site.lot.frontageOrigin !== "given")
        return {
          severity: "concern",
          measured: site.lot.frontageOrigin === "guessed" ? "guessed from street shots" : "not given",
          threshold: "given",
          basis: "assumed",
        };
      const { boundary } = site.survey;
      let widthFt = 0;
      site.lot.edges.forEach((edge, i) => {
        const [a, b] = [boundary[i]!, boundary[(i + 1) % boundary.length]!];
        if (edge.frontage) widthFt += Math.hypot(b[0] - a[0], b[1] - a[1]);
      });
      return widthFt < 20
        ? { severity: "concern", measured: widthFt, threshold: 20, unit: "ft of street side" }
        : null;
    },
  },
  {
    code: "LOT-03",
    title: "Little or no room inside the rules",
    why: "What setbacks, easements and steep ground leave is hardly more than the house and the strip around it.",
    next: "Ask what exceptions the city has granted nearby",
    who: WHO.city,
    source: PRACTICE,
    onLot: (facts): Hit | null => {
      const need = neededGroundFt2(facts);
      const have = facts.site.lot.buildable.areaFt2;
      if (have >= 1.5 * need) return null;
      return {
        severity: have < need ? "stop" : "watch",
        measured: have,
        threshold: have < need ? need : 1.5 * need,
        unit: "ft² left to build on",
        basis: isAssumed(facts.site.request, "rules.setbacksFt") ? "assumed" : "rule given",
      };
    },
  },
  {
    code: "LOT-04",
    title: "The room is in scraps",
    why: "The ground left to build on is not in one place.",
    next: "Look at a house in two parts, or at the largest piece alone",
    who: WHO.builder,
    source: PRACTICE,
    onLot: ({ site }) => {
      const { areaFt2: all, largestPatchFt2 } = site.lot.buildable;
      return all > 0 && largestPatchFt2 < all / 2
        ? {
            severity: "watch",
            measured: (100 * largestPatchFt2) / all,
            threshold: 50,
            unit: "% in the largest piece",
          }
        : null;
    },
  },
  {
    code: "LOT-05",
    title: "A small change of the slope rule changes the answer",
    why: "The room left depends strongly on how the city draws the line for steep ground.",
    next: "Ask for the exact rule, and how slope is measured",
    who: WHO.city,
    source: PRACTICE,
    onLot: (facts) => {
      const { areaFt2: now, slopeLimitPct } = facts.site.lot.buildable;
      const less = buildableAtLimit(facts, slopeLimitPct - 5);
      const more = buildableAtLimit(facts, slopeLimitPct + 5);
      if (now <= 0 || less === null || more === null) return null;
      const change = (100 * Math.max(now - less, more - now)) / now;
      return change > 30
        ? { severity: "watch", measured: change, threshold: 30, unit: "% change for 5 points of slope limit" }
        : null;
    },
  },
  {
    code: "LOT-06",
    title: "Setbacks are our guess",
    why: "We guessed a line that the city decides.",
    next: "Ask for the setbacks in writing, and whether to walls or to eaves",
    who: WHO.city,
    source: PRACTICE,
    onLot: ({ site }) =>
      isAssumed(site.request, "rules.setbacksFt")
        ? { severity: "watch", measured: "assumed", threshold: "given", basis: "assumed" }
        : null,
  },
];
