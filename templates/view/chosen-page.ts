/** Builder's page on the chosen way to build, in detail. */

import type { SchemeResult } from "../../analysis/study/result.js";
import { volumeDoubtYd3 } from "../../analysis/written-number.js";
import { crossSection } from "../drawings/cross-section.js";
import { earthPlan } from "../drawings/earth-plan.js";
import { areaSample, crossSample, dotSample, lineSample } from "../drawings/legend.js";
import { figure, type Source, table } from "./report-parts.js";
import { sectionLegend } from "./section-legend.js";
import { tradeOffCurves } from "./trade-off-curves.js";
import { capital, dugAndFilled, KIND_WORDS, plural } from "./words.js";

/** Less dirt than this is no load. */
const LEAST_HAUL_YD3 = 0.5;

export function chosenPage({ study, pictures, format, chosen, chosenPicture }: Source) {
  if (!chosen || !chosenPicture) return undefined;
  const e = chosen.earthwork;
  const doubtYd3 = volumeDoubtYd3(chosen.earthwork);
  const withDoubt = (yd3: number) =>
    `${format.volume(yd3, doubtYd3)}${yd3 < doubtYd3 / 2 ? "" : ` ± ${format.volume(doubtYd3, doubtYd3)}`}`;
  const plan = earthPlan(
    {
      id: "earth",
      title: capital(dugAndFilled(chosen, format)),
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
  return {
    name: chosen.name,
    recommended: study.recommendation.schemeId === chosen.id,
    feasible: chosen.feasible,
    what: [...new Set([KIND_WORDS[chosen.kind], format.say(chosen.footprintShape)])].filter(
      (words) => words.toLowerCase() !== chosen.name.toLowerCase() && words !== "as given",
    ),
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
      ...(chosenPicture.drive?.tooTight?.length
        ? [{ sample: crossSample("too-tight"), words: "too tight for a truck or fire engine" }]
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
      `Same scale up and across. Heights in ${format.metric ? "meters" : "feet"}.`,
      sectionLegend([chosenPicture.along, chosenPicture.across]),
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
        ["Cut", withDoubt(e.bankCutYd3), "bank: as it lies in the ground, natural ground to design surface"],
        ["Fill", withDoubt(e.compactedFillYd3), "compacted: rolled in place"],
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
        e.looseExportYd3 >= LEAST_HAUL_YD3
          ? [
              "Left over from the pad",
              format.volume(e.looseExportYd3, doubtYd3),
              "loose: in the truck; what driveway and backfill lack is taken from it first",
            ]
          : null,
        e.looseImportYd3 >= LEAST_HAUL_YD3
          ? [
              "Lacking at the pad",
              format.volume(e.looseImportYd3, doubtYd3),
              "loose: in the truck; what driveway and piers leave over fills it first",
            ]
          : null,
        [
          "Truckloads on the road",
          `${format.count(chosen.cost.hauledLoads.p50)} (${format.count(chosen.cost.hauledLoads.p10)} to ${format.count(chosen.cost.hauledLoads.p90)})`,
          "the whole job, out and in, by volume or by weight, whichever asks for more",
        ],
        ["Ground disturbed", format.area(e.disturbedFt2), "in plan: pad, cut and fill slopes"],
        e.temporaryCutFt > 0
          ? [
              "Open cut while building",
              `${format.length(e.temporaryCutFt, 0.5)} high, reaching ${format.length(e.temporaryReachFt, 0.5)}`,
              // studies kept from before did not tell the open cut from the banks
              (e.temporaryLeavesLot ?? e.leavesLot) ? "would cross the lot line" : "stays on the lot",
            ]
          : null,
      ],
    ),
    walls: table(
      "Walls",
      ["Where", "Holds", "Footing to top", "Length", "Face"],
      listedWalls(chosen).map((w) => [
        `${w.kind === "basement" ? "Wall of the house" : "Site wall"}, ${w.where}${w.surcharge ? ", ground or drive above" : ""}${w.tier ? `, tier ${w.tier.nth} of ${w.tier.of} from below, ${format.length(w.tier.spacingFt, 0.5)} apart` : ""}`,
        format.length(w.retainedFt, 0.5),
        format.length(w.totalFt, 0.5),
        format.length(w.lengthFt, 1),
        format.area(w.faceFt2),
      ]),
    ),
    basementWalls: chosen.basement
      ? `The walls of the basement are told side by side under “What holds the house”: ${format.length(chosen.basement.buriedWallFt, 1)} of them stand in the ground and hold up to ${format.length(chosen.basement.maxRetainedFt, 0.5)} of earth.`
      : undefined,
    straddle:
      chosen.straddle.daylightUnderHouse && chosen.straddle.fillSharePct > 0
        ? `The house straddles the line between cut and fill: ${format.percent(chosen.straddle.cutSharePct)} on cut, ${format.percent(chosen.straddle.fillSharePct)} on fill up to ${format.length(chosen.straddle.maxFillUnderHouseFt, 0.5)} deep. The two settle differently.`
        : undefined,
    curves: tradeOffCurves(chosen, format),
    tried: chosen.search
      ? `${format.count(chosen.search.placementsTried, 100)} places and turns were weighed, and ${format.count(chosen.search.exactTried)} closer looks taken over the real ground.`
      : undefined,
    footprints:
      chosen.search && chosen.search.byFootprint.length > 1
        ? table(
            "Footprints tried, each at its best place, by likely cost of the ground work",
            ["Footprint", "Ground work", "Against the one taken"],
            footprintRows(chosen.search.byFootprint, format),
          )
        : undefined,
  };
}

/** Walls of a basement are measured once, where what holds the house is told. */
function listedWalls({ walls, basement }: SchemeResult): SchemeResult["walls"] {
  return basement ? walls.filter((wall) => wall.kind === "site") : walls;
}

/** The footprint taken stands first in the search's list; the others follow by cost, with what each would add or save. */
function footprintRows(
  [taken, ...others]: readonly { readonly shape: string; readonly objectiveUsd: number }[],
  format: Source["format"],
): string[][] {
  if (!taken) return [];
  return [
    [format.say(taken.shape), format.money(taken.objectiveUsd), "taken"],
    ...others
      .toSorted((a, b) => a.objectiveUsd - b.objectiveUsd)
      .map(({ shape, objectiveUsd }) => {
        const by = objectiveUsd - taken.objectiveUsd;
        return [
          format.say(shape),
          format.money(objectiveUsd),
          `${format.money(Math.abs(by))} ${by < 0 ? "less, but farther from fitting" : "more"}`,
        ];
      }),
  ];
}
