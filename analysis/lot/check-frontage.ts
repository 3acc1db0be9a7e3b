/** Numbers of frontage lines that the boundary does not have. */
import type { Problem } from "../assumptions.js";
import type { StudyRequest } from "../request/request.js";
import type { Survey } from "../survey/survey.js";

/** One problem for each number of `access.frontage` beyond the last lot line: a typing error must not pass for an unknown street. */
export function checkFrontage(
  { inputEdge }: Pick<Survey, "inputEdge">,
  { access }: Pick<StudyRequest, "access">,
): Problem[] {
  const last = Math.max(...inputEdge);
  return (access.frontage ?? []).flatMap((edge, i) =>
    edge > last
      ? [
          {
            code: "frontage-no-such-line",
            where: `request.access.frontage[${i}]`,
            message: `The boundary has no lot line ${edge}: they are numbered from 0 to ${last}, in the order of the corners.`,
            remedy: `Send numbers from 0 to ${last}; line 0 leaves the first corner. POST /v1/surveys/check shows them.`,
          },
        ]
      : [],
  );
}
