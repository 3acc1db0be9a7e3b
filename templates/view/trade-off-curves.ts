/** What level, size and turn of the house do to dirt and money: the chosen way moved along one of them at a time. */
import type { SchemeResult } from "../../analysis/study/result.js";
import { curve } from "../drawings/curve-chart.js";
import { volumeDoubtYd3 } from "./doubt.js";
import type { Format } from "./format.js";
import { type Figure, figure } from "./report-parts.js";

type XY = readonly [x: number, y: number];

const FEWEST_POINTS = 3;

export function tradeOffCurves(chosen: SchemeResult, format: Format): { figures: Figure[]; flat?: string } {
  const { curves } = chosen;
  if (!curves) return { figures: [] };
  const { exportByLevel, exportByFloorArea, costByRotation } = curves;
  const levelFt = chosenLevelFt(chosen);
  const atLevel =
    levelFt === undefined
      ? undefined
      : { x: format.toLength(levelFt), text: `chosen, ${format.elevation(levelFt)}` };
  const levelName = `${chosen.basement ? "basement floor" : "pad"} level, ${format.lengthUnit}`;
  const level = format.given;
  const volume = (v: number) => `${format.number(v, 10)} ${format.volumeUnit}`;
  const money = (v: number) => format.moneyTick(v);
  const hauls = (points: readonly { readonly looseExportYd3: number }[]) =>
    points.some((p) => p.looseExportYd3 > 2 * volumeDoubtYd3(chosen));
  const turn = chosen.levels.find((l) => l.role === "house")?.rotationDeg;
  const figures = [
    hauls(exportByLevel) &&
      panel(
        "export-level",
        "Dirt to haul away, if the house stood higher or lower",
        exportByLevel.map((p): XY => [format.toLength(p.levelFt), format.toVolume(p.looseExportYd3)]),
        { mark: atLevel, xName: levelName, yName: "hauled away, loose", xTick: level, yTick: volume },
      ),
    panel(
      "cost-level",
      "Cost of the ground work, if the house stood higher or lower",
      exportByLevel.map((p): XY => [format.toLength(p.levelFt), p.objectiveUsd]),
      { mark: atLevel, xName: levelName, yName: "likely cost, US dollars", xTick: level, yTick: money },
    ),
    hauls(exportByFloorArea) &&
      panel(
        "export-area",
        "Dirt to haul away, for a smaller or larger house",
        exportByFloorArea.map((p): XY => [format.toArea(p.floorAreaFt2), format.toVolume(p.looseExportYd3)]),
        {
          mark: { x: format.toArea(chosen.floorAreaFt2), text: `asked, ${format.area(chosen.floorAreaFt2)}` },
          xName: "floor area",
          yName: "hauled away, loose",
          xTick: (v) => `${format.number(v, 1)} ${format.areaUnit}`,
          yTick: volume,
        },
      ),
    panel(
      "cost-turn",
      "Cost of the ground work, if the house were turned",
      costByRotation.map((p): XY => [p.rotationDeg, p.objectiveUsd]),
      {
        mark: turn === undefined ? undefined : { x: turn, text: `chosen, ${format.angle(turn)}` },
        xName: "direction of the house, from north",
        yName: "likely cost, US dollars",
        xTick: format.angle,
        yTick: money,
      },
    ),
  ].filter((f) => f !== false && f !== undefined);
  const areas = exportByFloorArea.map((p) => p.floorAreaFt2);
  return {
    figures,
    ...(areas.length >= FEWEST_POINTS && !hauls(exportByFloorArea)
      ? {
          flat: `A house of ${format.area(Math.min(...areas))} to ${format.area(Math.max(...areas))} in the same place would haul little or nothing from its pad: the level is found anew for each size.`,
        }
      : {}),
  };
}

function panel(
  id: string,
  title: string,
  points: readonly XY[],
  axes: Omit<Parameters<typeof curve>[1], "points">,
): Figure | undefined {
  if (points.length < FEWEST_POINTS) return undefined;
  const words = `${points.map(([x, y]) => `${axes.xTick(x)}: ${axes.yTick(y)}`).join("; ")}.`;
  return figure(curve({ id, title, words }, { points, ...axes }), "");
}

/** The sampled level that is the chosen one: the curve moves the lowest floor or pad under the house. */
function chosenLevelFt({ levels, curves }: SchemeResult): number | undefined {
  const heights = levels
    .filter((level) => level.role !== "garage")
    .sort((a, b) => a.elevationFt - b.elevationFt)
    .flatMap((level) => [level.elevationFt, level.floorElevationFt]);
  for (const height of heights) {
    const at = curves?.exportByLevel.find((p) => Math.abs(p.levelFt - height) < 0.02);
    if (at) return at.levelFt;
  }
  return undefined;
}
