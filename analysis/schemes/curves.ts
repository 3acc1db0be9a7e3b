/** How much depends on level, size and direction: the chosen scheme moved along one of them at a time, everything else in place. */

import { flatten } from "../geometry/convex-clip.js";
import type { MultiPolygon } from "../geometry/plane.js";
import { Ground } from "./contained.js";
import { rotationDeg } from "./design-core.js";
import { footprintRing } from "./footprint-outline.js";
import type { FootprintShape, Rect } from "./footprints.js";
import { type Effort, type LevelChoice, type Model, NEARER, QUICK, type Trial } from "./model.js";
import type { Place } from "./place.js";
import type { SchemeDesign } from "./scheme.js";

const LEVEL_REACH_FT = 5;
const LEVEL_GAP_FT = 1;
const TURN_GAP_DEG = 15;
const FLOOR_SHARES = [0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.3] as const;
/** Curves are drawn, not built from: sampled a little more coarsely than the choice itself. */
const DRAWN: Effort = { ...NEARER, stepFt: 4 };
/** A level of its own is sought with slopes taken as straight, then measured once on the real ground. */
const SOUGHT: Effort = { ...QUICK, levelToFt: 0.2 };

/** What a point of a curve is held against beyond its own trial. */
export interface CurveRules {
  /** Codes of the rules the chosen design breaks, as it came out exactly. */
  readonly broken: readonly string[];
  /** True where tiers took the place of walls too tall for the rule: they may at the other points too. */
  readonly hasTiers: boolean;
  readonly buildable: MultiPolygon;
}

/**
 * Points that cannot be graded on surveyed ground are left out. Costs carry no penalty: where a point breaks rules, their
 * codes stand beside it, as the look at that point sees them; what only the exact design shows is taken as broken all along.
 */
export function curvesOf(
  chosen: Trial,
  model: Model,
  floorAreaFt2: number,
  rules: CurveRules,
): NonNullable<SchemeDesign["curves"]> {
  const { place, shape } = chosen;
  const ground = new Ground(rules.buildable);
  const seen = new Set(chosen.breaches.map(({ code }) => code));
  const everywhere = rules.broken.filter((code) => !seen.has(code) && code !== "buildable");
  const breaksOf = (trial: Trial, isChosen: boolean): string[] => {
    if (isChosen) return [...rules.broken];
    const codes = new Set(everywhere);
    for (const { code } of trial.breaches) if (code !== "site-wall" || !rules.hasTiers) codes.add(code);
    if (!ground.holds(flatten(footprintRing(trial.place, trial.shape)))) codes.add("buildable");
    return [...codes];
  };
  const measured = (at: Place, of: FootprintShape, how: LevelChoice) => model.tryAt(at, of, DRAWN, how);
  const atItsLevel = (at: Place, of: FootprintShape) => {
    const like = model.tryAt(at, of, SOUGHT, { how: "near", like: chosen });
    return like && measured(at, of, { how: "set", like, levelFt: like.levelFt });
  };
  const exportByLevel: Mutable<Curves["exportByLevel"]> = [];
  for (let d = -LEVEL_REACH_FT; d <= LEVEL_REACH_FT; d += LEVEL_GAP_FT) {
    const levelFt = chosen.levelFt + d;
    const trial = measured(place, shape, { how: "set", like: chosen, levelFt });
    if (trial)
      exportByLevel.push({
        levelFt,
        looseExportYd3: trial.exportLooseYd3,
        objectiveUsd: trial.costUsd,
        breaks: breaksOf(trial, d === 0),
      });
  }
  const exportByFloorArea: Mutable<Curves["exportByFloorArea"]> = [];
  for (const share of FLOOR_SHARES) {
    const trial = atItsLevel(place, scaled(shape, Math.sqrt(share)));
    if (trial)
      exportByFloorArea.push({
        floorAreaFt2: floorAreaFt2 * share,
        looseExportYd3: trial.exportLooseYd3,
        breaks: breaksOf(trial, share === 1),
      });
  }
  const costByRotation: Mutable<Curves["costByRotation"]> = [];
  for (let deg = 0; deg < 180; deg += TURN_GAP_DEG) {
    const turnRad = place.turnRad + (deg * Math.PI) / 180;
    const turned = { ...place, turnRad };
    // a straight look may miss a wall on broken ground: the level carried along is then the better one
    const looks = [atItsLevel(turned, shape), measured(turned, shape, { how: "carry", like: chosen })];
    const [trial] = looks.filter((look) => look !== null).sort((a, b) => a.scoreUsd - b.scoreUsd);
    if (trial)
      costByRotation.push({
        rotationDeg: rotationDeg(turnRad),
        objectiveUsd: trial.costUsd,
        breaks: breaksOf(trial, deg === 0),
      });
  }
  costByRotation.sort((a, b) => a.rotationDeg - b.rotationDeg);
  return { exportByLevel, exportByFloorArea, costByRotation };
}

type Curves = NonNullable<SchemeDesign["curves"]>;
type Mutable<T> = T extends readonly (infer Item)[] ? Item[] : never;

function scaled(shape: FootprintShape, by: number): FootprintShape {
  const grow = (r: Rect): Rect => ({ u0: r.u0 * by, v0: r.v0 * by, u1: r.u1 * by, v1: r.v1 * by });
  return {
    ...shape,
    house: grow(shape.house),
    garage: shape.garage && grow(shape.garage),
    doors: shape.doors.map((d) => ({ ...d, at: [d.at[0] * by, d.at[1] * by] })),
  };
}
