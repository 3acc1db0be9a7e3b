/** Builder's page on the chosen way to build, in detail. */
import type { SchemeResult } from "../../analysis/study/result.js";
import { crossSection } from "../drawings/cross-section.js";
import { curve } from "../drawings/curve-chart.js";
import { earthPlan } from "../drawings/earth-plan.js";
import { areaSample, dotSample, lineSample, plainSample } from "../drawings/legend.js";
import { volumeDoubtYd3 } from "./doubt.js";
import { type Figure, figure, type Source, table } from "./report-parts.js";
import { KIND_WORDS, plural } from "./words.js";

export function chosenPage({ study, pictures, format, chosen, chosenPicture }: Source) {
  if (!chosen || !chosenPicture) return undefined;
  const e = chosen.earthwork;
  const plan = earthPlan(
    {
      id: "earth",
      title: `Dug up to ${format.length(e.maxCutFt, 0.5)}, filled up to ${format.length(e.maxFillFt, 0.5)}`,
      words: `Close plan of the house with the ground dug around it hatched and the ground filled dotted, darker where deeper, ${chosen.walls.length} ${plural(chosen.walls.length, "wall")} and the driveway.`,
    },
    pictures,
    chosenPicture,
    format,
  );
  const dug = [
    { sample: areaSample("cut", "cut"), words: "dug (darker: deeper)" },
    { sample: areaSample("fill", "fill"), words: "filled (darker: higher)" },
  ];
  const below = [
    { sample: lineSample("ground-before"), words: "natural ground" },
    { sample: lineSample("ground-line"), words: "finished ground" },
    ...(chosenPicture.piers.length ? [{ sample: plainSample("section-pier"), words: "pier" }] : []),
    ...(chosenPicture.drains.length ? [{ sample: dotSample("section-drain"), words: "drain" }] : []),
    ...(chosenPicture.wells.length ? [{ sample: plainSample("well"), words: "light well" }] : []),
    ...(chosenPicture.temporary
      ? [{ sample: lineSample("temporary"), words: "open cut while building" }]
      : []),
  ];
  return {
    name: chosen.name,
    recommended: study.recommendation.schemeId === chosen.id,
    feasible: chosen.feasible,
    kind: KIND_WORDS[chosen.kind],
    shape: chosen.footprintShape,
    plan: figure(plan, `Contours every ${format.typed(pictures.contourIntervalFt)}.`, [
      ...dug,
      ...(chosenPicture.walls.some((wall) => wall.kind === "site")
        ? [{ sample: lineSample("wall", "wall-stones"), words: "wall" }]
        : []),
      { sample: lineSample("pad-edge"), words: "edge of the graded pad" },
      { sample: lineSample("setback-line"), words: "setback" },
      ...(chosenPicture.temporary
        ? [{ sample: lineSample("temporary"), words: "open cut while building" }]
        : []),
      ...(chosenPicture.piers.length ? [{ sample: dotSample("pier"), words: "pier" }] : []),
    ]),
    along: figure(
      crossSection(
        {
          id: "along",
          title: "Down the hill, through the house",
          words:
            "Section from the high side on the left to the low side on the right: natural ground dashed, finished ground solid, the house and what stands below it.",
          ends: ["high side", "low side"],
        },
        chosenPicture.along,
        format,
        { close: true },
      ),
      `Same scale up and across. Heights in ${format.metric ? "metres" : "feet"}.`,
      [...dug.map((entry) => ({ ...entry, words: entry.words.split(" ")[0]! })), ...below],
    ),
    across: figure(
      crossSection(
        {
          id: "across",
          title: "Across the hill, looking up",
          words:
            "Section across the fall line through the middle of the house, as seen by somebody who stands below it and looks up.",
          ends: ["left", "right"],
        },
        chosenPicture.across,
        format,
        { close: true },
      ),
      "Same scale up and across.",
    ),
    earth: table(
      "Dirt",
      ["", "Amount", "Counted as"],
      [
        [
          "Cut",
          `${format.volume(e.bankCutYd3, volumeDoubtYd3(chosen))} ± ${format.volume(volumeDoubtYd3(chosen), volumeDoubtYd3(chosen))}`,
          "bank: as it lies in the ground, natural ground to design surface",
        ],
        [
          "Fill",
          `${format.volume(e.compactedFillYd3, volumeDoubtYd3(chosen))} ± ${format.volume(volumeDoubtYd3(chosen), volumeDoubtYd3(chosen))}`,
          "compacted: rolled in place",
        ],
        e.digYd3 > 0
          ? ["Dig for the basement", format.volume(e.digYd3), "bank, with working space and open sides"]
          : null,
        e.backfillYd3 > 0 ? ["Put back behind walls", format.volume(e.backfillYd3), "compacted"] : null,
        e.stockpileFt2 > 0
          ? ["Room to store it until then", format.area(e.stockpileFt2), "on ground flat enough to pile"]
          : null,
        e.topsoilYd3 > 0
          ? [
              "Topsoil stripped",
              format.volume(e.topsoilYd3),
              "bank; stripped, kept on the lot and spread again",
            ]
          : null,
        e.overexcavationYd3 > 0
          ? ["Dug out and put back firmer", format.volume(e.overexcavationYd3), "bank"]
          : null,
        e.keyBenchYd3 > 0 ? ["Key and benches under fill", format.volume(e.keyBenchYd3), "bank"] : null,
        ["Hauled away", format.volume(e.looseExportYd3, volumeDoubtYd3(chosen)), "loose: in the truck"],
        e.looseImportYd3 > 0
          ? ["Brought in", format.volume(e.looseImportYd3, volumeDoubtYd3(chosen)), "loose"]
          : null,
        [
          "Truckloads for the pad alone",
          format.count(e.truckloads),
          "the larger of loads by volume and by weight",
        ],
        [
          "Truckloads for the whole job",
          `${format.count(chosen.cost.hauledLoads.p50)} (${format.count(chosen.cost.hauledLoads.p10)} to ${format.count(chosen.cost.hauledLoads.p90)})`,
          "with driveway and pier spoil, out and in",
        ],
        ["Ground disturbed", format.area(e.disturbedFt2), ""],
        e.temporaryCutFt > 0
          ? [
              "Open cut while building",
              `${format.length(e.temporaryCutFt, 0.5)} high, reaching ${format.length(e.temporaryReachFt, 0.5)}`,
              e.leavesLot ? "would cross the lot line" : "stays on the lot",
            ]
          : null,
      ],
    ),
    walls: table(
      "Walls",
      ["Where", "Holds", "Footing to top", "Length", "Face"],
      chosen.walls.map((w) => [
        `${w.kind === "basement" ? "Basement wall" : "Site wall"}, ${w.where}${w.surcharge ? ", ground or drive above" : ""}`,
        format.length(w.retainedFt, 0.5),
        format.length(w.totalFt, 0.5),
        format.length(w.lengthFt, 1),
        format.area(w.faceFt2),
      ]),
    ),
    straddle:
      chosen.straddle.daylightUnderHouse && chosen.straddle.fillSharePct > 0
        ? `The house straddles the line between cut and fill: ${format.percent(chosen.straddle.cutSharePct)} on cut, ${format.percent(chosen.straddle.fillSharePct)} on fill up to ${format.length(chosen.straddle.maxFillUnderHouseFt, 0.5)} deep. The two settle differently.`
        : undefined,
    exportCurve: exportCurve(chosen, format),
    tried: chosen.search
      ? `${format.count(chosen.search.placementsTried, 100)} places, turns and levels were tried; the best ${format.count(chosen.search.exactTried)} were computed exactly.`
      : undefined,
    footprints:
      chosen.search && chosen.search.byFootprint.length > 1
        ? table(
            "Footprints tried, by likely site cost",
            ["Footprint", "Site cost"],
            chosen.search.byFootprint.map((f) => [f.shape, format.money(f.objectiveUsd)]),
          )
        : undefined,
  };
}

function exportCurve(chosen: SchemeResult, format: Source["format"]): Figure | undefined {
  const points = chosen.curves?.exportByLevel ?? [];
  // The curve moves the lowest pad under the house.
  const level = chosen.levels
    .filter((l) => l.role !== "garage")
    .sort((a, b) => a.elevationFt - b.elevationFt)[0];
  if (points.length < 3 || !level) return undefined;
  const at = Math.min(Math.max(level.elevationFt, points[0]!.levelFt), points.at(-1)!.levelFt);
  return figure(
    curve(
      {
        id: "export",
        title: "Dirt to haul away, if the pad stood higher or lower",
        words: points
          .map((p) => `${format.elevation(p.levelFt)}: ${format.volume(p.looseExportYd3)}`)
          .join("; "),
      },
      {
        points: points.map((p) => [format.toLength(p.levelFt), p.looseExportYd3]),
        mark: { x: format.toLength(at), text: `chosen, ${format.elevation(at)}` },
        xName: `pad level, ${format.lengthUnit}`,
        yName: `hauled away, loose`,
        xTick: (v) => format.number(v, format.metric ? 0.5 : 1),
        yTick: (v) => format.volume(v),
      },
    ),
    "Position and turn of the house held as chosen.",
  );
}
