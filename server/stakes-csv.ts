/** Preliminary stakes: where the pad's corners fall, for a first walk over the lot. Never for building. */

import type { Pictures } from "../analysis/pictures/pictures.js";
import { toSurvey } from "../analysis/survey/survey.js";
import { type Cell, csv } from "./csv.js";
import { HttpProblem, notFound, summary } from "./errors.js";
import type { FieldError } from "./field-errors.js";
import type { StudyDocument } from "./study-document.js";

export const MARK = "PRELIM-NOT FOR CONSTRUCTION";
/** A boundary that misses itself by more than one in this many does not close. Common practice, no source. */
const CLOSES_AT = 5000;

/** @throws {HttpProblem} 409 where nothing may be staked, 404 for a scheme the study does not hold. */
export function stakesCsv(study: StudyDocument, pictures: Pictures, schemeId?: string): string {
  const against = whatStandsAgainst(study);
  if (against.length > 0) throw new HttpProblem("stakes-refused", summary(against), { errors: against });
  const id = schemeId ?? study.recommendation.schemeId;
  const stakes = pictures.schemes.find((scheme) => scheme.id === id)?.stakes;
  if (id === null || !stakes) {
    if (schemeId !== undefined) throw notFound(`The scheme ${schemeId}`);
    throw new HttpProblem("stakes-refused", "The study recommends no scheme.", {
      errors: [
        { where: "scheme", message: "The study recommends no scheme.", remedy: "Name one with ?scheme=ID." },
      ],
    });
  }
  const floors = floorsInTheAir(study, id);
  const rows = stakes.map(({ name, level, at, existingFt, proposedFt }, i): Cell[] => {
    const inTheAir = floors.has(level);
    const [easting, northing] = toSurvey(pictures.frame, at);
    return [
      i + 1,
      tenth(northing),
      tenth(easting),
      existingFt === null ? null : tenth(existingFt),
      tenth(proposedFt),
      existingFt === null || inTheAir ? null : cutOrFill(proposedFt - existingFt),
      `${MARK} ${name}${inTheAir ? " floor above ground" : ""}`,
    ];
  });
  return `# ${MARK}. Elevations in feet. A licensed surveyor sets construction stakes.\r\n${csv([
    ["point", "northing", "easting", "existing", "proposed", "cut_or_fill", "description"],
    ...rows,
  ])}`;
}

/** Levels of the house that no earth is filled up to: on piers, or over a lower level open downhill. */
function floorsInTheAir({ schemes }: StudyDocument, id: string): ReadonlySet<string> {
  const scheme = schemes.find((s) => s.id === id);
  return new Set(
    scheme?.kind === "pier-raised" || scheme?.kind === "daylight-basement"
      ? scheme.levels.filter(({ role }) => role === "house").map(({ name }) => name)
      : [],
  );
}

function whatStandsAgainst({ lot, findings }: StudyDocument): FieldError[] {
  const against: FieldError[] = [];
  const { closure } = lot;
  if (closure && !closure.adjusted && closure.precision < CLOSES_AT)
    against.push({
      code: "boundary-open",
      where: "boundary",
      message: `The boundary misses itself by ${closure.misclosureFt.toFixed(2)} ft (1 in ${Math.round(closure.precision).toLocaleString("en-US")}).`,
      remedy: "Check the calls against the deed, or ask the surveyor for corner coordinates.",
    });
  for (const finding of findings)
    if (finding.severity === "stop" && finding.code.startsWith("SRV"))
      against.push({ code: finding.code, where: "survey", message: finding.title, remedy: finding.next });
  return against;
}

/** "C 2.3": dig 2.3 ft down to the design; "F 0.4": fill 0.4 ft up to it. */
function cutOrFill(raiseFt: number): string {
  const depth = tenth(Math.abs(raiseFt));
  return depth === "0.0" ? depth : `${raiseFt < 0 ? "C" : "F"} ${depth}`;
}

const tenth = (value: number): string => value.toFixed(1);
