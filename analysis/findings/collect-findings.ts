/** Runs every rule over the lot and over each way to build. */
import {
  bestScheme,
  type Hit,
  type LotRule,
  type Rule,
  type SchemeFacts,
  type SchemeRule,
  type StudyFacts,
} from "./facts.js";
import type { Finding, Severity } from "./finding.js";
import { accessWaterRules } from "./rules/access-water-rules.js";
import { groundWorkRules } from "./rules/ground-work-rules.js";
import { houseRules } from "./rules/house-rules.js";
import { lotRules } from "./rules/lot-rules.js";
import { slopeRules } from "./rules/slope-rules.js";
import { surveyRules } from "./rules/survey-rules.js";

export const RULES: readonly Rule[] = [
  ...surveyRules,
  ...lotRules,
  ...slopeRules,
  ...groundWorkRules,
  ...accessWaterRules,
  ...houseRules,
];

const ORDER: Record<Severity, number> = { stop: 0, concern: 1, watch: 2, info: 3 };
/** What was seen on this lot comes before what nobody has answered yet. */
const BASIS: Record<Finding["basis"], number> = { survey: 0, "rule given": 1, assumed: 2 };

/**
 * Every rule that was met, worst first. A rule about ways to build gives one finding that names all it touches:
 * measured on the best scheme when that one is touched; where only others are, it is at most a watch, because the
 * reader can choose not to build that way.
 */
export function collectFindings(facts: StudyFacts): Finding[] {
  const best = bestScheme(facts.schemes);
  const findings = RULES.flatMap((rule) => {
    const finding = "onLot" in rule ? onLot(rule, facts, best) : onSchemes(rule, facts, best);
    return finding ? [finding] : [];
  });
  return findings.sort((a, b) => ORDER[a.severity] - ORDER[b.severity] || BASIS[a.basis] - BASIS[b.basis]);
}

function onLot(rule: LotRule, facts: StudyFacts, best: SchemeFacts | null): Finding | null {
  const hit = rule.onLot(facts, best);
  return hit && toFinding(rule, hit, []);
}

function onSchemes(rule: SchemeRule, facts: StudyFacts, best: SchemeFacts | null): Finding | null {
  const hits = facts.schemes.flatMap((scheme) => {
    const hit = rule.onScheme(scheme, facts.site);
    return hit ? [{ id: scheme.design.id, hit }] : [];
  });
  if (hits.length === 0) return null;
  const affects = hits.map((h) => h.id);
  const onBest = hits.find((h) => h.id === best?.design.id);
  if (onBest) return toFinding(rule, onBest.hit, affects);
  const worst = [...hits].sort((a, b) => ORDER[a.hit.severity] - ORDER[b.hit.severity])[0]!.hit;
  const choice = best !== null && ORDER[worst.severity] < ORDER.watch;
  return toFinding(rule, choice ? { ...worst, severity: "watch" } : worst, affects);
}

function toFinding(rule: Rule, hit: Hit, affects: readonly string[]): Finding {
  return {
    code: rule.code,
    severity: hit.severity,
    title: rule.title,
    detail: hit.more ? `${rule.why} ${hit.more}` : rule.why,
    measured: hit.measured,
    threshold: hit.threshold,
    unit: hit.unit ?? "",
    basis: hit.basis ?? "survey",
    affects,
    next: rule.next,
    who: rule.who,
    source: rule.source,
  };
}
