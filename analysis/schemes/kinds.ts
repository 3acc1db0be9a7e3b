/** The ways to build that are tried, in the order they are shown. */
import { DaylightBasement } from "./daylight-basement.js";
import { FullBasement } from "./full-basement.js";
import { LevelPad } from "./level-pad.js";
import type { Judge, Model } from "./model.js";
import { PierRaised } from "./pier-raised.js";
import type { SchemeKind } from "./scheme.js";
import { SteppedPad } from "./stepped-pad.js";

export interface KindOfScheme {
  readonly kind: SchemeKind;
  /** One model, or several of which the best is kept; `scale` shrinks or grows the floor area. */
  readonly models: (judge: Judge, scale: number) => readonly Model[];
}

export const KINDS: readonly KindOfScheme[] = [
  { kind: "level-pad", models: (judge, scale) => [new LevelPad(judge, scale)] },
  {
    kind: "stepped-pad",
    models: (judge, scale) => [new SteppedPad(judge, 2, scale), new SteppedPad(judge, 3, scale)],
  },
  { kind: "daylight-basement", models: (judge, scale) => [new DaylightBasement(judge, scale)] },
  { kind: "full-basement", models: (judge, scale) => [new FullBasement(judge, scale)] },
  { kind: "pier-raised", models: (judge, scale) => [new PierRaised(judge, scale)] },
];
