/** What level, size and turn of the house do to dirt and money: the chosen way moved along one of them at a time. */

import type { SchemeResult } from "../../analysis/study/result.js";
import { volumeDoubtYd3 } from "../../analysis/written-number.js";
import { curve } from "../drawings/curve-chart.js";
import { areaSample } from "../drawings/legend.js";
import type { Format } from "./format.js";
import { type Figure, figure } from "./report-parts.js";

interface Sample {
  readonly x: number;
  readonly y: number;
  /** What a point would break, in words; studies kept from before did not say. */
  readonly breaks: readonly string[] | undefined;
}

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
    points.some((p) => p.looseExportYd3 > 2 * volumeDoubtYd3(chosen.earthwork));
  const turn = chosen.levels.find((l) => l.role === "house")?.rotationDeg;
  const figures = [
    hauls(exportByLevel) &&
      panel(
        "export-level",
        "Dirt to haul away, if the house stood higher or lower",
        exportByLevel.map((p) => ({
          x: format.toLength(p.levelFt),
          y: format.toVolume(p.looseExportYd3),
          breaks: brokenBy(p),
        })),
        { mark: atLevel, xName: levelName, yName: "hauled away, loose", xTick: level, yTick: volume },
      ),
    panel(
      "cost-level",
      "Cost of the ground work, if the house stood higher or lower",
      exportByLevel.map((p) => ({
        x: format.toLength(p.levelFt),
        y: p.objectiveUsd,
        breaks: brokenBy(p),
      })),
      { mark: atLevel, xName: levelName, yName: "likely cost, US dollars", xTick: level, yTick: money },
    ),
    hauls(exportByFloorArea) &&
      panel(
        "export-area",
        "Dirt to haul away, for a smaller or larger house",
        exportByFloorArea.map((p) => ({
          x: format.toArea(p.floorAreaFt2),
          y: format.toVolume(p.looseExportYd3),
          breaks: brokenBy(p),
        })),
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
      costByRotation.map((p) => ({ x: p.rotationDeg, y: p.objectiveUsd, breaks: brokenBy(p) })),
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
  samples: readonly Sample[],
  axes: Omit<Parameters<typeof curve>[1], "points" | "forbidden">,
): Figure | undefined {
  if (samples.length < FEWEST_POINTS) return undefined;
  const said = samples.map(
    ({ x, y, breaks }) =>
      `${axes.xTick(x)}: ${axes.yTick(y)}${breaks?.length ? `, not allowed: ${breaks.join(", ")}` : ""}`,
  );
  const points = samples.map(({ x, y }) => [x, y] as const);
  const forbidden = samples.map(({ breaks = [] }) => breaks.length > 0);
  const picture = curve({ id, title, words: `${said.join("; ")}.` }, { points, forbidden, ...axes });
  const broken = [...new Set(samples.flatMap(({ breaks = [] }) => breaks))];
  const isFree = samples.every(({ breaks }) => breaks?.length === 0);
  return figure(
    picture,
    isFree ? "No point of it breaks a rule." : "",
    broken.length > 0
      ? [{ sample: areaSample("no-build", "no-build"), words: `breaks a rule: ${broken.join("; ")}` }]
      : [],
  );
}

function brokenBy({ breaks }: { readonly breaks?: readonly string[] }): readonly string[] | undefined {
  return breaks?.map((code) => RULE_WORDS[code] ?? "a rule");
}

/** What stands against a place, by the code of its problem. */
const RULE_WORDS: Readonly<Record<string, string>> = {
  buildable: "off the buildable ground",
  unsurveyed: "ground nobody surveyed",
  "site-wall": "a wall too tall",
  "basement-wall": "too much earth against the basement",
  height: "the roof too high",
  "fill-too-steep": "fill on too steep ground",
  "no-drive": "no drive within the grade limit",
  "drive-wall": "too tall a wall beside the drive",
  "too-flat": "too little slope for an open lower floor",
  "fill-under-floor": "too much fill under the lower floor",
  "no-daylight": "too little of the lower floor open",
  "too-steep-to-bury": "a buried floor would stand open",
  "garage-stair": "garage and house too far apart in height",
  "slope-setback": "too near a graded slope",
  "slope-terrace": "a graded slope too high for one run",
  "batter-leaves-lot": "a slope over the lot line",
};

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
