/** Everything known about a lot before anything is proposed on it: what later stages are handed. */
import type { StudyRequest } from "../request/request.js";
import type { Survey } from "../survey/survey.js";
import type { Terrain } from "../terrain/terrain.js";
import type { Lot } from "./lot.js";

export interface Site {
  readonly request: StudyRequest;
  readonly survey: Survey;
  readonly terrain: Terrain;
  readonly lot: Lot;
}
