/** The ways to build that are tried, in the order they are shown. */
import { daylightBasement } from "./daylight-basement.js";
import { fullBasement } from "./full-basement.js";
import { levelPad } from "./level-pad.js";
import type { Judge, Model } from "./model.js";
import { pierRaised } from "./pier-raised.js";
import type { SchemeKind } from "./scheme.js";
import { steppedPad } from "./stepped-pad.js";

export interface KindOfScheme {
  readonly kind: SchemeKind;
  /** One model, or several of which the best is kept; `scale` shrinks or grows the floor area. */
  readonly models: (judge: Judge, scale: number) => readonly Model[];
}

export const KINDS: readonly KindOfScheme[] = [
  { kind: "level-pad", models: (judge, scale) => [levelPad(judge, scale)] },
  {
    kind: "stepped-pad",
    models: (judge, scale) => [steppedPad(judge, 2, scale), steppedPad(judge, 3, scale)],
  },
  { kind: "daylight-basement", models: (judge, scale) => [daylightBasement(judge, scale)] },
  { kind: "full-basement", models: (judge, scale) => [fullBasement(judge, scale)] },
  { kind: "pier-raised", models: (judge, scale) => [pierRaised(judge, scale)] },
];
