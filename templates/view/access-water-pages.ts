/** Builder's pages on the way in and on water. */
import type { SchemeResult } from "../../analysis/study/result.js";
import { toYd3 } from "../../analysis/units.js";
import { driveProfile, heightScale } from "../drawings/drive-profile.js";
import { areaSample, dotSample, lineSample } from "../drawings/legend.js";
import { waterPlan } from "../drawings/site-plan.js";
import { figure, type Source, table } from "./report-parts.js";
import { capital, plural, sentences, TIER_WORDS } from "./words.js";

/** Less dug or filled than this does not show in a profile. */
const LEAST_DRAWN_FT = 0.1;
/** A smaller wall beside a driveway is a kerb. */
const LEAST_NAMED_WALL_FT2 = 5;

export function accessPage({ study, format, chosen, chosenPicture }: Source) {
  if (!chosen) return undefined;
  const drive = chosen.driveway;
  const garages = garagesTried(chosen, format);
  if (!drive)
    return {
      reachable: false as const,
      garages,
      because: format.say(chosen.access.because),
      gentlest:
        chosen.access.gentlestGradePct === null ? undefined : format.percent(chosen.access.gentlestGradePct),
      limit: format.percent(study.request.rules.driveway.maxGradePct),
      helps: chosen.access.helps.map(format.say),
    };
  const profile = chosenPicture?.drive?.profile ?? [];
  const times = profile.length > 1 ? heightScale(profile) : 1;
  return {
    reachable: true as const,
    garages,
    profile:
      profile.length > 1
        ? figure(
            driveProfile(
              {
                id: "drive",
                title: `The driveway, ${format.length(drive.lengthFt, 1)} long, up to ${format.percent(drive.maxGradePct)} steep`,
                words: `Profile of the driveway from the street on the left to the garage on the right: natural ground dashed, finished drive solid.`,
              },
              profile,
              format,
            ),
            times > 1 ? `Heights drawn ${times} times larger than lengths.` : "Same scale up and across.",
            [
              { sample: lineSample("ground-before"), words: "natural ground" },
              { sample: lineSample("drive-line"), words: "driveway" },
              ...(profile.some((p) => p.groundFt - p.gradeFt > LEAST_DRAWN_FT)
                ? [{ sample: areaSample("cut", "cut"), words: "dug" }]
                : []),
              ...(profile.some((p) => p.gradeFt - p.groundFt > LEAST_DRAWN_FT)
                ? [{ sample: areaSample("fill", "fill"), words: "filled" }]
                : []),
            ],
          )
        : undefined,
    facts: table(
      "Driveway",
      ["", "Value"],
      [
        ["Length and width", `${format.length(drive.lengthFt, 1)}, ${format.typed(drive.widthFt)}`],
        [
          "Steepest and mean",
          `${format.percent(drive.maxGradePct)}, ${format.percent(drive.meanGradePct)} (limit ${format.percent(study.request.rules.driveway.maxGradePct)})`,
        ],
        ["A car", answer(drive.car, format, "no")],
        [
          drive.fireEngine ? "A loaded concrete truck" : "A fire engine or loaded truck",
          answer(drive.heavyVehicle, format),
        ],
        drive.fireEngine ? ["A fire engine", answer(drive.fireEngine, format)] : null,
        ["Cut and fill", `${format.volume(drive.bankCutYd3)} and ${format.volume(drive.compactedFillYd3)}`],
        ["Paved", format.area(drive.pavedFt2)],
        drive.wallFaceFt2 >= LEAST_NAMED_WALL_FT2
          ? [
              "Walls beside it",
              `${format.area(drive.wallFaceFt2)} of face, up to ${format.length(drive.wallMaxFt, 0.5)}`,
            ]
          : null,
        [
          "Room to turn around",
          drive.turnaround
            ? "yes, drawn on the plans"
            : drive.turnaroundRequired
              ? "asked for, no room found"
              : "not asked for at this length",
        ],
        ["Garage floor", format.elevation(drive.garageFloorFt)],
        [
          "From the car to the front door",
          drive.stairsCount > 0
            ? `${format.count(drive.stairsCount)} ${plural(drive.stairsCount, "step")}, ${format.length(drive.walkFt, 1)} of walk`
            : `${format.length(drive.walkFt, 1)} of walk, no steps`,
        ],
      ],
    ),
  };
}

/** Whether a vehicle gets up, and why. */
function answer(
  { ok, because }: { readonly ok: boolean; readonly because: string },
  format: Source["format"],
  otherwise = "doubtful",
): string {
  return `${ok ? "yes" : otherwise}: ${format.say(because)}`;
}

/** Where the car may stop: a garage at the house, or one on its own nearer the street. */
function garagesTried({ garage, garageChoice }: SchemeResult, format: Source["format"]) {
  return table(
    "Garages tried",
    ["Garage", "Ground work with drive and walk", "What it means"],
    (garageChoice?.tried ?? []).map((tried) => [
      `${tried.garage === "attached" ? "At the house" : "On its own"}${tried.garage === garage ? ", chosen" : ""}`,
      tried.siteUsd === null ? "out of reach" : format.money(tried.siteUsd),
      sentences(format.say(tried.because)),
    ]),
  );
}

/** Less ground than a roof above the house is not worth a headline. */
const LEAST_NAMED_CATCHMENT_FT2 = 500;

export function waterPage({ study, pictures, format, chosen, chosenPicture }: Source) {
  const { water } = study;
  const d = chosen?.drainage;
  const lower = (text: string) => (d?.lowerBound ? `at least ${text}` : text);
  const rain = study.request.rules.rainfall;
  return {
    plan: figure(
      waterPlan(
        {
          id: "water",
          title:
            d && d.catchmentFt2 >= LEAST_NAMED_CATCHMENT_FT2
              ? `${capital(lower(format.area(d.catchmentFt2)))} of hill sheds rain onto the house`
              : "How water runs over the lot",
          words: `Plan of the lot with lines of running water${d ? ", the ground above the house that sheds onto it, the ditch that catches it, and the drains" : ""}.`,
        },
        {
          pictures,
          scheme: chosenPicture,
          format,
          downhillAzimuthDeg: study.terrain.aspectDeg,
          street: "street",
        },
      ),
      water.lowerBound
        ? "Water may also come from ground the survey does not show: areas are lower bounds."
        : "The survey shows all the ground that drains here.",
      [
        { sample: areaSample("sheds", "sheds"), words: "sheds onto the house" },
        ...(pictures.water.streams.length ? [{ sample: lineSample("stream"), words: "water gathers" }] : []),
        ...(chosenPicture?.swale.length
          ? [{ sample: lineSample("ditch"), words: "ditch above the house" }]
          : []),
        ...(chosenPicture?.drains.length
          ? [
              { sample: lineSample("drain"), words: "drain pipe" },
              { sample: dotSample("outlet"), words: "outlet" },
            ]
          : []),
        ...(chosenPicture?.overflow?.length
          ? [{ sample: lineSample("overflow"), words: "way of the water when a drain is blocked" }]
          : []),
        ...(chosenPicture?.crossings?.length
          ? [{ sample: dotSample("crossing"), words: "drive crosses water" }]
          : []),
        ...(pictures.water.depressions.length
          ? [{ sample: dotSample("hollow"), words: "hollow that fills" }]
          : []),
      ],
    ),
    flows: d
      ? table(
          "Rain",
          ["", "Value"],
          [
            ["Ground that sheds onto the house", lower(format.area(d.catchmentFt2))],
            [
              "Peak from above, 10-year rain",
              lower(`${format.flow(d.peakCfs)} (${rain.durationMin} min, ${format.rain(rain.inPerHr10yr)})`),
            ],
            [
              "Peak from above, 100-year rain",
              lower(`${format.flow(d.peak100Cfs)} (${format.rain(rain.inPerHr100yr)})`),
            ],
            [
              "Whole lot, before and after building",
              `${format.flow(d.lotBeforeCfs)} and ${format.flow(d.lotAfterCfs)}`,
            ],
            ["Roof and paving", format.area(d.imperviousFt2)],
            d.swale
              ? [
                  "Ditch above the house",
                  `${format.length(d.swale.lengthFt, 1)} long, ${format.inches(d.swale.depthIn)} deep, falling ${format.percent(d.swale.slopePct, 0.5)}, water at ${format.length(d.swale.velocityFtPerS, 0.1)} a second`,
                ]
              : null,
            d.detention && d.detention.peakFt3 > 0
              ? [
                  "Storage that keeps the peak of today",
                  `${format.volume(toYd3(d.detention.peakFt3))}; for all that an hour of rain adds ${format.volume(toYd3(d.detention.addedFt3))}`,
                ]
              : null,
            ["Roof drain pipe", format.inches(d.roofPipeIn)],
            [
              "Ground falls away from the house",
              `${d.fallAwayFromHouse.ok ? "yes" : "not everywhere"}: ${format.say(d.fallAwayFromHouse.because)}`,
            ],
          ],
        )
      : undefined,
    tiers: d
      ? table(
          "Drains",
          ["Which", "Bottom of pipe", "Runs out at", "Length", "By gravity"],
          d.tiers.map((t) => [
            TIER_WORDS[t.tier],
            format.elevation(t.invertFt),
            t.outletFt === null ? "no place found" : format.elevation(t.outletFt),
            t.runFt < 1 ? `under ${format.length(1, 1)}` : format.length(t.runFt, 1),
            t.gravity ? "yes" : "no: pumps",
          ]),
        )
      : undefined,
    // Studies kept from before hold fewer of these.
    advice: d
      ? [d.swale?.words, ...(d.crossings ?? []).map((c) => c.words), d.overflow?.words, d.detention?.words]
          .filter((words) => words !== undefined)
          .map(format.say)
      : [],
    pumped: d?.tiers.filter((t) => !t.gravity).map((t) => format.say(t.words)) ?? [],
    hollows: table(
      "Hollows that would fill",
      ["Where", "Area", "Depth"],
      water.depressions.map((h, i) => [`Hollow ${i + 1}`, format.area(h.areaFt2), format.length(h.depthFt)]),
    ),
  };
}
