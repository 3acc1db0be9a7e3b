/** What went wrong in a job: an answer for the caller, or a fault worth another try. */
import { HttpProblem, type ProblemDocument, problemDocument } from "../errors.js";

/** True for what the caller can act on: trying again would end the same way. */
export function isAnswer(error: unknown): boolean {
  return error instanceof HttpProblem && error.slug !== "busy";
}

export function problemOf(error: unknown, instance: string): ProblemDocument {
  const problem =
    error instanceof HttpProblem
      ? error
      : new HttpProblem(
          "our-fault",
          "The work broke on our side several times. The request was not at fault.",
        );
  return problemDocument(problem, instance);
}
