/** What the rules look at. */
import type { Access, Driveway } from "../access/access.js";
import type { SchemeCost } from "../cost/cost.js";
import type { Drainage, LotWater } from "../drainage/drainage.js";
import type { Site } from "../lot/site.js";
import type { Schedule } from "../schedule/schedule.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import type { Structure } from "../structure/structure.js";
import type { Severity } from "./finding.js";

export interface SchemeFacts {
  readonly design: SchemeDesign;
  readonly access: Access;
  readonly drainage: Drainage;
  readonly structure: Structure;
  readonly cost: SchemeCost;
  readonly schedule: Schedule;
}

export interface StudyFacts {
  readonly site: Site;
  readonly water: LotWater;
  readonly schemes: readonly SchemeFacts[];
}

/** One rule met: how bad, by what measure, against what limit. */
export interface Hit {
  readonly severity: Severity;
  readonly measured: number | string | null;
  readonly threshold: number | string | null;
  readonly unit?: string;
  readonly basis?: "survey" | "rule given" | "assumed";
  /** A sentence added to the rule's own, where the case needs one. */
  readonly more?: string;
}

interface RuleWords {
  /** Stable code, e.g. "SRV-01". */
  readonly code: string;
  readonly title: string;
  /** Why it matters: one plain sentence. */
  readonly why: string;
  readonly next: string;
  readonly who: string;
  readonly source: string;
}

export interface LotRule extends RuleWords {
  readonly onLot: (facts: StudyFacts, best: SchemeFacts | null) => Hit | null;
}

export interface SchemeRule extends RuleWords {
  readonly onScheme: (scheme: SchemeFacts, site: Site) => Hit | null;
}

export type Rule = LotRule | SchemeRule;

export const PRACTICE = "common practice, no source";

export const WHO = {
  surveyor: "licensed land surveyor",
  soils: "soils engineer",
  civil: "civil engineer",
  structural: "structural engineer",
  city: "city or county",
  seller: "seller, agent or title company",
  builder: "builder",
  fire: "fire official",
  utility: "utility company",
  architect: "architect",
  you: "you",
} as const;

/** The severity of the highest limit passed, or null below all of them. Limits rise; the first is the mildest. */
export function graded(
  measured: number,
  limits: readonly (readonly [above: number, severity: Severity])[],
  unit: string,
  basis: NonNullable<Hit["basis"]> = "survey",
): Hit | null {
  let hit: Hit | null = null;
  for (const [above, severity] of limits)
    if (measured > above) hit = { severity, measured, threshold: above, unit, basis };
  return hit;
}

export function driveOf(scheme: SchemeFacts): Driveway | null {
  return scheme.access.reachable ? scheme.access.driveway : null;
}

/** Tallest wall outside the house, along the driveway included. */
export function tallestSiteWallFt(scheme: SchemeFacts): number {
  const walls = scheme.design.walls.filter((w) => w.kind === "site").map((w) => w.retainedFt);
  return Math.max(0, driveOf(scheme)?.wallMaxFt ?? 0, ...walls);
}

/**
 * The scheme a builder would look at first: fits the ground, a car reaches it, least middle cost. One that only
 * its drive, or the lack of one, keeps from fitting still comes before none at all. Null when nothing fits.
 */
export function bestScheme(schemes: readonly SchemeFacts[]): SchemeFacts | null {
  const rank = (s: SchemeFacts) => (!s.access.reachable ? 2 : s.design.feasible ? 0 : 1);
  const fitting = schemes.filter((s) => s.design.problems.every(({ code }) => DRIVE_PROBLEMS.has(code)));
  return fitting.sort((a, b) => rank(a) - rank(b) || a.cost.p50Usd - b.cost.p50Usd)[0] ?? null;
}

const DRIVE_PROBLEMS: ReadonlySet<string> = new Set(["no-drive", "drive-wall"]);
