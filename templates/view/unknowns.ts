/** What nobody knows yet, who does, and what it costs to learn: the most telling first. */
import type { ReportStudy } from "./report-parts.js";

export interface Unknown {
  readonly question: string;
  readonly who: string;
  readonly cost: string;
}

/** Prices of answers: from memory, order of magnitude. */
const SOILS_REPORT = "about $6,000 to $24,000; a first visit and letter about $1,000 to $3,000";
const TOPO = "about $3,000 to $10,000";

/** Ordered by how much an answer may change the whole picture. */
export function unknownsOf(study: ReportStudy): Unknown[] {
  const { request, survey, findings, terrain, lot } = study;
  const has = (code: string) => findings.some((finding) => finding.code === code);
  const steep = terrain.meanSlopePct > 15;
  const unknowns: Unknown[] = [];
  const ask = (when: boolean, question: string, who: string, cost: string) => {
    if (when) unknowns.push({ question, who, cost });
  };
  const guessed = ["rules.setbacksFt", "rules.slopeLimitPct"].some((path) => request.assumed.includes(path));
  const cannotTell = study.recommendation.verdictCode === "cannot-tell";
  const rules = [
    "How close to the lines, and on how steep a slope, may you build?",
    "the city or county planner",
    "free to ask",
  ] as const;
  ask(cannotTell && guessed, ...rules);
  ask(
    survey.coveragePct < 80,
    "What does the rest of the ground look like?",
    "a licensed land surveyor",
    TOPO,
  );
  ask(
    has("SRV-03"),
    "Do the two drawings lie on each other?",
    "a licensed land surveyor",
    "about $500 to $3,000",
  );
  ask(
    request.utilities.sewer === "unknown" && !request.utilities.septic,
    "Is there a sewer in the street you may join?",
    "the city or the sewer company",
    "free to ask",
  );
  ask(
    request.soil.depthToFirmFt === null,
    "What is under the grass: firm ground, loose dirt, rock or water?",
    "a soils engineer",
    SOILS_REPORT,
  );
  ask(
    request.hazards.landslide === "unknown" && steep,
    "Has this hill moved before?",
    "the county map office, then a geologist",
    "maps are free; a geologist about $3,000 to $10,000",
  );
  ask(
    request.utilities.septic,
    "Will the ground take a septic field?",
    "the county health office",
    "a test about $1,000 to $4,000",
  );
  ask(
    has("SRV-08"),
    "Who else may cross, drain or use this land?",
    "the seller, in a title report with its maps",
    "free, or a few hundred dollars",
  );
  ask(!cannotTell && guessed, ...rules);
  ask(
    has("LOT-01") || lot.frontageOrigin !== "given",
    "Is it a legal lot with a legal way in?",
    "the city or county planner",
    "free to ask",
  );
  ask(
    request.utilities.water === "unknown",
    "Can you get water and power to the house?",
    "the water and power companies",
    "free to ask",
  );
  ask(
    request.hazards.wildfire === "unknown",
    "Will an insurer cover a house here?",
    "an insurance agent",
    "free to ask",
  );
  return unknowns;
}
