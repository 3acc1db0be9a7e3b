/** What the lot line alone tells: size, and the role and setback of each edge. */
import { areaFt2, perimeterFt } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import type { Survey } from "../survey/survey.js";
import { toAcres } from "../units.js";
import { findEdgeRoles } from "./edge-roles.js";
import type { Lot } from "./lot.js";
import { setbackPerEdge } from "./setbacks.js";

/** Size of the lot (ft², acres, ft) and its edges, without a look at the ground. */
export function describeLot(
  survey: Survey,
  request: StudyRequest,
): Pick<Lot, "summary" | "edges" | "frontageOrigin"> {
  const { boundary, inputEdge, closure } = survey;
  const { roles, frontage, origin } = findEdgeRoles(survey, request);
  const setbackFt = setbackPerEdge(request.rules.setbacksFt, { roles, frontage, origin }, inputEdge);
  const lotFt2 = areaFt2([[boundary]]);
  return {
    summary: {
      areaFt2: lotFt2,
      areaAcres: toAcres(lotFt2),
      perimeterFt: perimeterFt(boundary),
      closure,
    },
    edges: setbackFt.map((ft, i) => ({
      number: inputEdge[i]!,
      role: roles[i]!,
      setbackFt: ft,
      frontage: frontage[i]!,
    })),
    frontageOrigin: origin,
  };
}
