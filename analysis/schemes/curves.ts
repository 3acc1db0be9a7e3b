/** How much depends on level, size and direction: the chosen scheme moved along one of them at a time, everything else in place. */

import { rotationDeg } from "./design.js";
import type { FootprintShape, Rect } from "./footprints.js";
import { CLOSE, type Effort, type Model, type Trial } from "./model.js";
import type { SchemeDesign } from "./scheme.js";

const LEVEL_REACH_FT = 5;
const LEVEL_GAP_FT = 1;
const TURN_GAP_DEG = 15;
const FLOOR_SHARES = [0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.3] as const;
/** Curves are drawn, not built from: sampled a little more coarsely than the choice itself. */
const DRAWN: Effort = { ...CLOSE, stepFt: 4, edgeStepFt: 6, rays: 2 };

/** Points that cannot be graded on surveyed ground are left out. Costs carry no penalty: a curve may run through ground the rules forbid. */
export function curvesOf(
  chosen: Trial,
  model: Model,
  floorAreaFt2: number,
): NonNullable<SchemeDesign["curves"]> {
  const { place, shape } = chosen;
  const exportByLevel: { levelFt: number; looseExportYd3: number; objectiveUsd: number }[] = [];
  for (let d = -LEVEL_REACH_FT; d <= LEVEL_REACH_FT; d += LEVEL_GAP_FT) {
    const levelFt = chosen.levelFt + d;
    const trial = model.tryAt(place, shape, DRAWN, { how: "set", like: chosen, levelFt });
    if (trial)
      exportByLevel.push({ levelFt, looseExportYd3: trial.exportLooseYd3, objectiveUsd: trial.costUsd });
  }
  const exportByFloorArea: { floorAreaFt2: number; looseExportYd3: number }[] = [];
  for (const share of FLOOR_SHARES) {
    const trial = model.tryAt(place, scaled(shape, Math.sqrt(share)), DRAWN, { how: "near", like: chosen });
    if (trial)
      exportByFloorArea.push({ floorAreaFt2: floorAreaFt2 * share, looseExportYd3: trial.exportLooseYd3 });
  }
  const costByRotation: { rotationDeg: number; objectiveUsd: number }[] = [];
  for (let deg = 0; deg < 180; deg += TURN_GAP_DEG) {
    const turnRad = place.turnRad + (deg * Math.PI) / 180;
    const trial = model.tryAt({ ...place, turnRad }, shape, DRAWN, { how: "near", like: chosen });
    if (trial) costByRotation.push({ rotationDeg: rotationDeg(turnRad), objectiveUsd: trial.costUsd });
  }
  costByRotation.sort((a, b) => a.rotationDeg - b.rotationDeg);
  return { exportByLevel, exportByFloorArea, costByRotation };
}

function scaled(shape: FootprintShape, by: number): FootprintShape {
  const grow = (r: Rect): Rect => ({ u0: r.u0 * by, v0: r.v0 * by, u1: r.u1 * by, v1: r.v1 * by });
  return {
    ...shape,
    house: grow(shape.house),
    garage: shape.garage && grow(shape.garage),
    doors: shape.doors.map((d) => ({ ...d, at: [d.at[0] * by, d.at[1] * by] })),
  };
}
