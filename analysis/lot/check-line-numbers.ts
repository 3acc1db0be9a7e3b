/** What the request says of lot lines, against the lines the boundary has. */
import type { Problem } from "../assumptions.js";
import type { StudyRequest } from "../request/request.js";
import type { Survey } from "../survey/survey.js";

/**
 * One problem for each number of `access.frontage` beyond the last lot line, and one where `setbacksFt.edges` is not as
 * long as there are lines: a typing error must neither pass for an unknown street nor move a setback to another line.
 */
export function checkLineNumbers(
  { inputEdge }: Pick<Survey, "inputEdge">,
  {
    access,
    rules,
  }: { readonly access: StudyRequest["access"]; readonly rules: Pick<StudyRequest["rules"], "setbacksFt"> },
): Problem[] {
  const last = Math.max(...inputEdge);
  const numbering = `they are numbered from 0 to ${last}, in the order of the corners`;
  const shownBy = "line 0 leaves the first corner. POST /v1/surveys/check shows them.";
  const problems = (access.frontage ?? []).flatMap((edge, i): Problem[] =>
    edge > last
      ? [
          {
            code: "frontage-no-such-line",
            where: `request.access.frontage[${i}]`,
            message: `The boundary has no lot line ${edge}: ${numbering}.`,
            remedy: `Send numbers from 0 to ${last}; ${shownBy}`,
          },
        ]
      : [],
  );
  const given = "edges" in rules.setbacksFt ? rules.setbacksFt.edges.length : last + 1;
  if (given !== last + 1)
    problems.push({
      code: "setbacks-not-per-line",
      where: "request.rules.setbacksFt.edges",
      message: `${given} setbacks were given for ${last + 1} lot lines: ${numbering}.`,
      remedy: `Send one setback for each line; ${shownBy}`,
    });
  return problems;
}
