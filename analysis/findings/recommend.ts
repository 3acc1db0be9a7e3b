/** The verdict: which of five plain sentences is true, why, and what would turn it into another. */

import { inUsUnits } from "../measure.js";
import { whyCannotTell } from "./cannot-tell.js";
import { bestScheme, type SchemeFacts, type StudyFacts } from "./facts.js";
import type { Finding, Recommendation, VerdictCode } from "./finding.js";
import { hillFacts } from "./hill-facts.js";
import { neededGroundFt2 } from "./rules/lot-rules.js";
import { openQuestions } from "./specialist.js";
import { dearTests, goodTests, harderIf, milderIf, noRoomIf, squareFeet } from "./verdict-tests.js";

export const VERDICTS: Readonly<Record<VerdictCode, string>> = {
  "cannot-tell": "We cannot tell from this survey.",
  "no-room": "By the rules given or assumed here, no house of this size fits.",
  "specialist-first": "Something could fit, but an engineer must answer before anyone spends more.",
  "hard-dear": "A house fits, but the hill will cost you. Buy only if the price leaves room.",
  "good-fit": "The land can take this house in a fairly plain way, as far as the survey shows.",
};

/** A test this close to its limit counts as near in the middle ground; common practice, no source. */
const NEAR = 0.8;
/** Reasons a reader is given where there are as many. */
const WANTED_REASONS = 3;

/** Conditions are tried in order, from "cannot tell" to "good fit"; the first that holds is the verdict. */
export function recommend(facts: StudyFacts & { readonly findings: readonly Finding[] }): Recommendation {
  const best = bestScheme(facts.schemes);
  const unclear = whyCannotTell(facts, best);
  if (unclear.length > 0)
    return say(
      "cannot-tell",
      best,
      unclear.map((u) => u.reason),
      unclear.map((u) => u.send),
    );
  if (!best) return nothingFits(facts);
  const open = openQuestions(facts, best);
  const onItsGround = weighed(facts, best);
  if (open.length === 0) return onItsGround;
  const reasons = open.map((question) => question.reason);
  const hard = onItsGround.verdictCode === "hard-dear";
  return say("specialist-first", best, filledUp(reasons, hard ? onItsGround.reasons : hillFacts(best)), [
    ...open.map(({ settledIf }) => `It would change if ${settledIf}.`),
    `With all of it answered, it would read: “${onItsGround.verdict}”`,
  ]);
}

/** The verdict on ground and money alone, every question answered. */
function weighed(
  facts: StudyFacts & { readonly findings: readonly Finding[] },
  best: SchemeFacts,
): Recommendation {
  const dear = dearTests(best);
  const over = dear
    .filter((t) => t.measured > t.limit)
    .sort((a, b) => b.measured / b.limit - a.measured / a.limit);
  const near = dear.filter((t) => t.measured <= t.limit && t.measured > NEAR * t.limit);
  const good = goodTests(facts, best);
  const missed = good.some((t) => !t.met);
  // The extra cost sums up what all the others do: near its limit it counts for two.
  const middling = missed && (near.length >= 2 || near.some((t) => t.sumsUp));
  const seen = seenConcerns(facts.findings, best);
  const price = seen.filter((f) => f.code === "PRC-01").map(inOneSentence);
  const concerns = seen.filter((f) => f.code !== "PRC-01").map(inOneSentence);
  if (over.length > 0 || price.length > 0 || middling || (missed && concerns.length > 0)) {
    const tests = over.length > 0 ? over : middling ? near : [];
    const why = [...tests.map((t) => t.words), ...price];
    return say("hard-dear", best, filledUp(why, [...concerns, ...hillFacts(best)]), [
      ...milderIf(over),
      ...(price.length > 0 ? ["It would read milder if the price left room for what the hill adds."] : []),
      ...(over.length === 0 && middling ? milderIf(near, NEAR) : []),
      ...(over.length === 0 && !middling && price.length === 0
        ? [`It would read milder if this were settled: ${lower(concerns[0]!)}`]
        : []),
      ...noRoomIf(facts),
    ]);
  }
  const met = good.filter((t) => t.met).map((t) => t.words);
  const first = concerns.length > 0 ? [`One thing to settle first. ${concerns[0]!}`] : [];
  return say(
    "good-fit",
    best,
    [...met.slice(0, 2), ...first, ...met.slice(2)],
    [...harderIf(dear), ...noRoomIf(facts)],
  );
}

/** "Fill under the house: new fill goes on settling for years." */
function inOneSentence({ title, detail }: Finding): string {
  return `${title}: ${lower(firstSentence(detail))}`;
}

/** The reasons themselves, then others that say something new, up to three. */
function filledUp(reasons: readonly string[], others: readonly string[]): string[] {
  const fresh = others.filter((other) => !reasons.includes(other));
  return [...reasons, ...fresh.slice(0, Math.max(0, WANTED_REASONS - reasons.length))];
}

/** Stops and concerns that were seen on the best way, not merely unanswered, and that no test of the verdict looks at. */
function seenConcerns(findings: readonly Finding[], best: SchemeFacts): Finding[] {
  return findings.filter(
    (f) =>
      (f.severity === "stop" || f.severity === "concern") &&
      f.basis !== "assumed" &&
      (f.affects.length === 0 || f.affects.includes(best.design.id)) &&
      !TESTED.has(f.code) &&
      !f.code.startsWith("SRV"),
  );
}

/** Findings whose measure is one of the tests of "hard, dear". */
const TESTED: ReadonlySet<string> = new Set(["SLP-02", "WAL-02", "ACC-02", "ERT-06"]);

function nothingFits(facts: StudyFacts): Recommendation {
  const freed = [
    ...new Set(
      facts.schemes.flatMap(({ design }) =>
        design.problems.flatMap((p) =>
          p.freedBy ? [`“${design.name}” ${p.freedBy.replace(/^fits/, "would fit")}.`] : [],
        ),
      ),
    ),
  ];
  const room = facts.site.lot.buildable.areaFt2 >= ROOM_TIMES * neededGroundFt2(facts);
  const reasons = room ? whatStandsInTheWay(facts.schemes) : whatAteTheGround(facts);
  return freed.length > 0
    ? say("specialist-first", null, [...reasons.slice(0, 2), ...freed.slice(0, 2)], freed)
    : say("no-room", null, reasons, [
        room
          ? "Changing one rule alone freed none of the ways to build where that was tried: more than one would have to give, or another kind of house be drawn for this ground."
          : "It would change with a smaller house, or if the city allowed less room to the lines or steeper ground.",
      ]);
}

function say(
  verdictCode: VerdictCode,
  best: SchemeFacts | null,
  reasons: readonly string[],
  flipsIf: readonly string[],
): Recommendation {
  return { schemeId: best?.design.id ?? null, verdictCode, verdict: VERDICTS[verdictCode], reasons, flipsIf };
}

/** With this many times the ground a house asks, room is not what is missing; common practice, no source. */
const ROOM_TIMES = 1.5;

/** What stops each way to build, those first that a changed rule would free. */
function whatStandsInTheWay(schemes: readonly SchemeFacts[]): string[] {
  const stopped = schemes.flatMap(({ design }) => {
    const problem = design.problems.find((p) => p.freedBy) ?? design.problems[0];
    return problem
      ? [{ name: design.name, why: firstSentence(problem.message), freed: problem.freedBy }]
      : [];
  });
  const byCause = new Map<string, { why: string; names: string[] }>();
  for (const { name, why } of stopped.sort((a, b) => Number(!a.freed) - Number(!b.freed))) {
    const cause = byCause.get(inUsUnits(why)) ?? { why, names: [] };
    cause.names.push(`“${name}”`);
    byCause.set(inUsUnits(why), cause);
  }
  return [...byCause.values()].map(
    ({ why, names }) => `${listed(names)} ${names.length > 1 ? "do" : "does"} not fit: ${lower(why)}`,
  );
}

/** The steps of the waterfall that took most, in words. */
function whatAteTheGround({ site }: Pick<StudyFacts, "site">): string[] {
  const { steps, areaFt2 } = site.lot.buildable;
  const words: Record<string, string> = {
    setback: "The setbacks take",
    easement: "The easements take",
    tree: "The trees take",
    watercourse: "The watercourse takes",
    unsurveyed: "Ground nobody surveyed takes",
    slope: `Ground steeper than ${site.lot.buildable.slopeLimitPct} % takes`,
    narrow: "Strips too narrow to build on take",
  };
  const eaters = steps
    .filter((s) => s.reason !== "lot" && s.removedFt2 > 0)
    .sort((a, b) => b.removedFt2 - a.removedFt2)
    .slice(0, 3)
    .map((s) => `${words[s.reason]} ${squareFeet(s.removedFt2)}.`);
  const left = areaFt2 < 50 ? "No ground is" : `${squareFeet(areaFt2)} are`;
  return [
    `${left} left to build on; the house and the strip around it ask about ${squareFeet(neededGroundFt2({ site }))}.`,
    ...eaters,
  ];
}

/** "A", "A and B", "A, B and C". */
function listed(names: readonly string[]): string {
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
}

function lower(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}

function firstSentence(text: string): string {
  return text.match(/^.*?[.!?](?= [A-Z]|$)/)?.[0] ?? text;
}
