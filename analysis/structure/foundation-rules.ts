/** Which foundation is likely to be asked for: rules tried in order, the first that holds leads. Common practice, no source, where no code is named. */
import type { Site } from "../lot/site.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import { groundAt } from "./house-facts.js";
import type { Foundation, FoundationKind, SlopeSetback } from "./structure.js";

const FAR_SHOTS_FT = 50;
const LIMITS = {
  specialistSlopePct: 50,
  pierSlopePct: 20,
  slabSlopePct: 10,
  fillFt: 3,
  straddleFillFt: 2,
  slabFillFt: 1.5,
  looseFt: 5,
} as const;
const COVER_BEYOND_FT = 10;

export interface FoundationChoice {
  readonly kind: FoundationKind;
  readonly standing: Foundation["standing"];
  readonly runnerUp: FoundationKind;
  readonly rule: string;
  readonly reasons: readonly string[];
  readonly wouldChange: readonly string[];
}

interface Ruling {
  readonly rule: string;
  readonly kind: FoundationKind;
  readonly standing?: Foundation["standing"];
  readonly reason: string;
}

/** Rules F0 to F8; every one that holds gives a reason, the first gives the kind. */
export function chooseFoundation(
  site: Site,
  design: SchemeDesign,
  setbacks: readonly SlopeSetback[],
): FoundationChoice {
  const { request, survey } = site;
  const { soil } = request;
  const slopePct = design.slopeUnderHousePct.p90;
  const { maxFillUnderHouseFt: fillFt, daylightUnderHouse } = design.straddle;
  const basement = design.levels.some((level) => level.role === "basement");
  const rulings: Ruling[] = [];
  const when = (holds: boolean, ruling: Ruling) => {
    if (holds) rulings.push(ruling);
  };
  const usual: FoundationKind =
    slopePct > LIMITS.pierSlopePct
      ? "pier-and-grade-beam"
      : slopePct > LIMITS.slabSlopePct
        ? "raised"
        : "slab";
  when(!covered(site, design), {
    rule: "F0",
    kind: usual,
    standing: "cannot-tell",
    reason: "the survey does not show all the ground around the house",
  });
  when(survey.summary.medianSpacingFt > FAR_SHOTS_FT && slopePct > LIMITS.pierSlopePct, {
    rule: "F0",
    kind: usual,
    standing: "cannot-tell",
    reason: "the shots are too far apart for ground this steep",
  });
  when(slopePct > LIMITS.specialistSlopePct, {
    rule: "F1",
    kind: "pier-and-grade-beam",
    standing: "specialist-first",
    reason: "the ground under the house is steeper than 1 in 2: a soils engineer speaks first",
  });
  when(request.hazards.landslide === "yes", {
    rule: "F1",
    kind: "pier-and-grade-beam",
    standing: "specialist-first",
    reason: "the lot is mapped for landslides: a geologist and a soils engineer speak first",
  });
  when(
    setbacks.some((s) => !s.met),
    {
      rule: "F1",
      kind: "pier-and-grade-beam",
      standing: "specialist-first",
      reason: "the house stands closer to steep ground than the published setback (IRC R403.1.7)",
    },
  );
  when(basement, {
    rule: "F7",
    kind: design.kind === "full-basement" ? "slab" : "pier-and-grade-beam",
    reason:
      design.kind === "full-basement"
        ? "the basement walls stand on wide footings in the cut, with a slab between them"
        : "the uphill basement wall stands on a wide footing in the cut; the open downhill row is likely to be carried by piers down to the same firm ground",
  });
  when(design.kind === "pier-raised", {
    rule: "F8",
    kind: "pier-and-grade-beam",
    reason: "the house stands above the ground, which is left as it is",
  });
  when(slopePct > LIMITS.pierSlopePct, {
    rule: "F2",
    kind: "pier-and-grade-beam",
    reason: "the ground under the house is steeper than 1 in 5",
  });
  when(fillFt > LIMITS.fillFt, {
    rule: "F2",
    kind: "pier-and-grade-beam",
    reason: "new fill under the house is deeper than 3 ft and goes on settling",
  });
  when(daylightUnderHouse && fillFt > LIMITS.straddleFillFt, {
    rule: "F2",
    kind: "pier-and-grade-beam",
    reason:
      "part of the house would sit on cut and part on new fill; the two settle differently, so the whole house is likely to be carried down to the same firm ground",
  });
  when(soil.expansive === true, {
    rule: "F3",
    kind: slopePct > LIMITS.slabSlopePct ? "pier-and-grade-beam" : "raised",
    reason: "the clay swells when it gets wet (IBC 1803.5.3)",
  });
  when(soil.depthToFirmFt !== null && soil.depthToFirmFt > LIMITS.looseFt, {
    rule: "F4",
    kind: "pier-and-grade-beam",
    reason: "firm ground lies deeper than 5 ft",
  });
  when(slopePct <= LIMITS.pierSlopePct && slopePct > LIMITS.slabSlopePct && fillFt <= LIMITS.fillFt, {
    rule: "F5",
    kind: "raised",
    reason: "the ground is between 1 in 10 and 1 in 5, with little fill: a raised floor on stepped footings",
  });
  when(slopePct <= LIMITS.slabSlopePct && fillFt <= LIMITS.slabFillFt && soil.expansive !== true, {
    rule: "F6",
    kind: "slab",
    reason: "the ground is gentle and the house sits on cut or on thin compacted fill",
  });
  when(slopePct <= LIMITS.slabSlopePct && fillFt > LIMITS.slabFillFt && fillFt <= LIMITS.fillFt, {
    rule: "F6",
    kind: "raised",
    reason:
      "the ground is gentle, but fill under the house is deeper than 1.5 ft: a raised floor on footings that reach through it, or a slab if the soils engineer accepts the fill",
  });
  const lead = rulings[0] ?? { rule: "F5", kind: usual, reason: "the ground is gentle" };
  const other = rulings.find((r) => r.kind !== lead.kind)?.kind;
  return {
    kind: lead.kind,
    standing: lead.standing ?? "likely",
    runnerUp:
      other ??
      (lead.kind === "pier-and-grade-beam"
        ? "raised"
        : lead.kind === "raised"
          ? "pier-and-grade-beam"
          : "raised"),
    rule: lead.rule,
    reasons: (rulings.length ? rulings : [lead]).map((r) => r.reason),
    wouldChange: wouldChange(lead.kind, soil.expansive, soil.depthToFirmFt),
  };
}

function covered(site: Site, design: SchemeDesign): boolean {
  const { footprint } = design;
  const cx = footprint.reduce((sum, p) => sum + p[0], 0) / footprint.length;
  const cy = footprint.reduce((sum, p) => sum + p[1], 0) / footprint.length;
  return footprint.every(([x, y]) => {
    const out = Math.hypot(x - cx, y - cy) || 1;
    const t = 1 + COVER_BEYOND_FT / out;
    return !Number.isNaN(groundAt(site, [cx + t * (x - cx), cy + t * (y - cy)]));
  });
}

/** What a soils engineer would have to find to change it. */
function wouldChange(
  kind: FoundationKind,
  expansive: boolean | "unknown",
  depthToFirmFt: number | null,
): string[] {
  const changes: string[] = [];
  if (kind === "pier-and-grade-beam") {
    changes.push("firm ground or rock at shallow depth under the whole house: footings instead of piers");
    if (depthToFirmFt === null) changes.push("loose soil deeper than expected: longer piers");
  } else {
    changes.push("old fill, loose soil or creep: drilled piers");
    if (expansive === "unknown")
      changes.push("clay that swells: drilled piers, or a stiffened slab on gentle ground");
  }
  return changes;
}
