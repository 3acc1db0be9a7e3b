/** What the figures are and what is not in them, in words. */
import type { CostBook } from "../book/book.js";
import type { StudyRequest } from "../request/request.js";
import type { CostBasis } from "./cost.js";

const LEFT_OUT = [
  "land",
  "loan",
  "furniture",
  "landscaping",
  "pool",
  "neighbors' claims",
  "contaminated soil and soil unfit for fill",
  "slides",
  "work in the street",
] as const;

/** The tables of the classification were not opened, so no accuracy of a class may be claimed. */
const CLASS_WORDS =
  "The least defined class of the published classifications of cost figures (AACE International 56R-08): little is drawn yet. The range printed is the range of these draws, not an accuracy that the classification promises.";

/** What a report must say beside the money. */
export function costBasis(book: CostBook, { costs }: StudyRequest): CostBasis {
  const escalated = costs.escalation
    ? ` brought to ${costs.escalation.date ?? "today"} by the index ${costs.escalation.indexNow} ÷ ${costs.escalation.indexAtBook}`
    : "";
  return {
    book: book.name,
    bookDate: book.date,
    region: book.region,
    regionFactor: costs.regionFactor,
    finishLevel: costs.finishLevel,
    words: `Order of magnitude for deciding whether to spend money on engineers. Prices are those of "${book.name}", ${book.date}${escalated}; nobody has priced this job.`,
    classWords: CLASS_WORDS,
    leftOut: LEFT_OUT,
  };
}
