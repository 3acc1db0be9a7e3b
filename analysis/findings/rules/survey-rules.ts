/** Can the two surveys be trusted for this? */

import { type Point, ringContains } from "../../geometry/plane.js";
import { measure } from "../../measure.js";
import { elevationAt } from "../../terrain/index.js";
import { type Hit, PRACTICE, type Rule, type StudyFacts, WHO } from "../facts.js";
import { fitMonuments } from "../monument-fit.js";

/** How far past the lot line water and slopes next door must be seen. */
const BEYOND_LINE_FT = 25;

export const surveyRules: readonly Rule[] = [
  {
    code: "SRV-01",
    title: "Part of the lot was not surveyed",
    why: "We cannot see part of the ground, so we did not count it.",
    next: "Extend the topographic survey over the whole lot",
    who: WHO.surveyor,
    source: PRACTICE,
    onLot: ({ site }) => {
      const pct = site.terrain.coveragePct;
      if (pct >= 95) return null;
      return {
        severity: pct < 80 ? "stop" : "watch",
        measured: pct,
        threshold: pct < 80 ? 80 : 95,
        unit: "% of the lot",
      };
    },
  },
  {
    code: "SRV-02",
    title: "Shots are far apart for ground this steep",
    why: "Hills and hollows can hide between the shots.",
    next: "Take denser shots where the house would stand",
    who: WHO.surveyor,
    source: PRACTICE,
    onLot: ({ site }) => {
      const spacing = site.survey.summary.medianSpacingFt;
      if (spacing > 40 && site.terrain.summary.meanSlopePct > 15)
        return { severity: "watch", measured: spacing, threshold: 40, unit: "ft between shots" };
      const rms = site.terrain.summary.interpolationRmsFt;
      return rms !== null && rms > 1
        ? { severity: "watch", measured: rms, threshold: 1, unit: "ft, ground guessed from shots around it" }
        : null;
    },
  },
  {
    code: "SRV-03",
    title: "The two surveys may not lie on each other",
    why: "If the lot lines and the ground shots are on different bases, a setback could be feet off.",
    next: "Ask for one signed drawing with both on one basis of bearings",
    who: WHO.surveyor,
    source: PRACTICE,
    onLot: ({ site }) => {
      const fit = fitMonuments(site.survey);
      if (fit.matched === 0)
        return {
          severity: "concern",
          measured: "no corner appears in both surveys",
          threshold: "2 corners in common",
        };
      if (fit.rotationDeg !== null && Math.abs(fit.rotationDeg) > 0.2)
        return { severity: "concern", measured: Math.abs(fit.rotationDeg), threshold: 0.2, unit: "° turned" };
      return fit.worstFt > 0.5
        ? { severity: "concern", measured: fit.worstFt, threshold: 0.5, unit: "ft between corners" }
        : null;
    },
  },
  {
    code: "SRV-04",
    title: "The written boundary does not close",
    why: "The bearings and distances do not come back to where they began.",
    next: "Check the deed and the typed calls",
    who: WHO.surveyor,
    source: PRACTICE,
    onLot: ({ site }) => {
      const closure = site.survey.closure;
      if (!closure || closure.precision >= 5000) return null;
      const stop = closure.precision < 1000;
      return {
        severity: stop ? "stop" : "watch",
        measured: closure.precision,
        threshold: stop ? 1000 : 5000,
        unit: "(1 part in …)",
      };
    },
  },
  {
    code: "SRV-05",
    title: "Unit or height datum not stated",
    why: "Feet of two kinds and heights of two kinds look alike on paper.",
    next: "State the unit, the vertical datum and the bench mark",
    who: WHO.surveyor,
    source: PRACTICE,
    onLot: ({ site }) => {
      const missing = [
        site.survey.summary.datum ? "" : "datum",
        site.request.survey.unit ? "" : "unit",
      ].filter(Boolean);
      return missing.length
        ? {
            severity: "watch",
            measured: `${missing.join(" and ")} not stated`,
            threshold: "stated",
            basis: "assumed",
          }
        : null;
    },
  },
  {
    code: "SRV-06",
    title: "Survey not dated, or shots that disagree",
    why: "The ground may have been changed since it was measured.",
    next: "Ask for the date of the field work, or walk the site",
    who: WHO.surveyor,
    source: PRACTICE,
    onLot: ({ site }) => {
      if (!site.survey.summary.date)
        return { severity: "watch", measured: "no date", threshold: "within 3 years", basis: "assumed" };
      const conflict = site.survey.summary.warnings.find((w) => w.code === "duplicate-conflict");
      return conflict
        ? { severity: "watch", measured: conflict.message, threshold: "one height at one place" }
        : null;
    },
  },
  {
    code: "SRV-07",
    title: "The survey stops at the line on the uphill side",
    why: "Water and slopes from next door are not in the numbers.",
    next: `Extend the survey ${measure([25, 50], "ft")} past the uphill lines`,
    who: WHO.surveyor,
    source: PRACTICE,
    onLot: uphillEdgesUnseen,
  },
  {
    code: "SRV-08",
    title: "No easements were sent",
    why: "Rights of others to cross or drain the land are often not on a topographic survey.",
    next: "Read the title report with its maps",
    who: WHO.seller,
    source: PRACTICE,
    onLot: ({ site }) =>
      site.survey.constraintsGiven
        ? null
        : { severity: "watch", measured: "none sent", threshold: "title report", basis: "assumed" },
  },
];

function uphillEdgesUnseen({ site }: StudyFacts): Hit | null {
  const { boundary } = site.survey;
  const azimuth = (site.terrain.summary.aspectDeg * Math.PI) / 180;
  const downhill: Point = [Math.sin(azimuth), Math.cos(azimuth)];
  let uphill = 0;
  let unseen = 0;
  boundary.forEach((from, i) => {
    const to = boundary[(i + 1) % boundary.length]!;
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const out: Point = [(to[1] - from[1]) / length, (from[0] - to[0]) / length];
    if (out[0] * downhill[0] + out[1] * downhill[1] > -0.5) return;
    const steps = Math.max(1, Math.round(length / 20));
    for (let k = 0; k < steps; k++) {
      const t = (k + 0.5) / steps;
      const x = from[0] + t * (to[0] - from[0]) + out[0] * BEYOND_LINE_FT;
      const y = from[1] + t * (to[1] - from[1]) + out[1] * BEYOND_LINE_FT;
      if (ringContains(boundary, [x, y])) continue;
      uphill++;
      if (Number.isNaN(elevationAt(site.terrain.tin, x, y))) unseen++;
    }
  });
  const share = uphill === 0 ? 0 : unseen / uphill;
  return share > 0.25
    ? {
        severity: "watch",
        measured: Math.round(share * 100),
        threshold: 25,
        unit: `% of the uphill lines not seen ${measure(BEYOND_LINE_FT, "ft")} beyond`,
      }
    : null;
}
