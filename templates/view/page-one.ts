/** The page for the client: one picture, five numbers, plain words. */
import { roundTo, stepFor } from "../../analysis/written-number.js";
import { blockView } from "../drawings/block-view.js";
import { crossSection } from "../drawings/cross-section.js";
import { areaSample, lineSample, plainSample } from "../drawings/legend.js";
import { placePlan } from "../drawings/site-plan.js";
import { asPrinted, moneyRange } from "./format.js";
import { type Figure, figure, type Source, unsurveyedEntry } from "./report-parts.js";
import { unknownsOf } from "./unknowns.js";
import { capital, dateInWords, fallOfLot, plural, sentences, shareInWords } from "./words.js";

interface FiveNumber {
  readonly name: string;
  readonly likely: string;
  readonly range: string;
  readonly compare: string;
}

const MOST_REASONS = 3;
const MOST_UNKNOWNS = 3;

export function pageOne(source: Source) {
  const { study } = source;
  const { recommendation } = study;
  const cannotTell = recommendation.verdictCode === "cannot-tell";
  const recommended = study.schemes.find((scheme) => scheme.id === recommendation.schemeId);
  const shown = recommended ?? (study.request.brief.pads ? source.chosen : undefined);
  return {
    name: study.name,
    date: dateInWords(study.createdAt),
    verdict: recommendation.verdict,
    cannotTell,
    placed: shown !== undefined,
    place: placeFigure(source, shown !== undefined),
    side: shown ? sideFigure(source) : undefined,
    block: shown ? blockFigure(source) : undefined,
    numbers: fiveNumbers(source, shown, cannotTell),
    reasons: recommendation.reasons
      .slice(0, MOST_REASONS)
      .map((reason) => sentences(source.format.say(reason))),
    unknowns: unknownsOf(study).slice(0, MOST_UNKNOWNS),
    price: cannotTell ? undefined : priceTalk(source, shown)?.join(" "),
    second: cannotTell ? undefined : secondChoice(source, recommended),
    spend: SPEND_IN_STEPS,
  };
}

function placeFigure({ study, pictures, format, chosenPicture }: Source, placed: boolean): Figure {
  const { sharePct } = study.buildable;
  const title = !placed
    ? "The lot and the ground left to build on"
    : study.request.brief.pads
      ? "Where the pad was drawn"
      : "Where the house wants to sit";
  const words = [
    `Plan of the lot with north at the top. ${fallOfLot(study.terrain)}.`,
    `${capital(shareInWords(sharePct))} of the lot is left to build on.`,
    placed
      ? "The best place for the house is drawn dark, with the driveway leading to it from the street."
      : "No house is drawn.",
  ].join(" ");
  const picture = placePlan(
    { id: "place", title, words },
    {
      pictures,
      scheme: placed ? chosenPicture : undefined,
      format,
      downhillAzimuthDeg: study.terrain.aspectDeg,
      street: "street",
    },
  );
  const legend = [
    { sample: areaSample("build-ground", "build-ground"), words: "ground left to build on" },
    ...unsurveyedEntry({ study }),
    { sample: lineSample("contour"), words: "lines of equal height" },
    ...(placed ? [{ sample: plainSample("house"), words: "house" }] : []),
    ...(placed && chosenPicture?.drive ? [{ sample: plainSample("drive"), words: "driveway" }] : []),
  ];
  return figure(picture, `North is up. Heights are in ${format.metric ? "meters" : "feet"}.`, legend);
}

function sideFigure({ format, chosenPicture }: Source): Figure | undefined {
  if (!chosenPicture || chosenPicture.along.stations.length < 2) return undefined;
  const picture = crossSection(
    {
      id: "side",
      title: "The hill from the side",
      words:
        "A cut through the hill and the house from the high side on the left to the low side on the right. Up and across are drawn to the same scale, so the hill is as steep here as in life.",
      ends: ["high side", "low side"],
    },
    chosenPicture.along,
    format,
    { plain: true },
  );
  return figure(picture, "Up and across are drawn alike: the hill is this steep.", []);
}

function blockFigure({ pictures, chosenPicture }: Source): Figure | undefined {
  if (!chosenPicture) return undefined;
  const { from, to } = chosenPicture.along;
  const picture = blockView(
    {
      id: "block",
      title: "The lot as a block cut out of the hill",
      words:
        "A view up the slope from below the lot, with the house standing on it. Lines across show the shape of the ground.",
    },
    pictures,
    chosenPicture,
    [to[0] - from[0], to[1] - from[1]],
  );
  return picture && figure(picture, "Seen from the low side, looking up.");
}

function fiveNumbers({ study, format }: Source, shown: Source["chosen"], cannotTell: boolean): FiveNumber[] {
  const { buildable, lot } = study;
  const numbers: FiveNumber[] = [];
  if (shown) {
    const { mean, p90 } = shown.slopeUnderHousePct;
    numbers.push({
      name: "How steep, where the house goes",
      likely: format.percent(mean),
      range:
        Math.round(p90) > Math.round(mean)
          ? `${format.percent(p90)} at the steepest parts`
          : "about the same all over",
      compare: `${capital(format.oneIn(mean))}. A wheelchair ramp climbs 1 in 12.`,
    });
  } else
    numbers.push({
      name: "How steep, on the whole lot",
      likely: format.percent(study.terrain.meanSlopePct),
      range: `${format.length(study.terrain.reliefFt, 1)} from the lowest to the highest point`,
      compare: `${capital(format.oneIn(study.terrain.meanSlopePct))}. A wheelchair ramp climbs 1 in 12.`,
    });
  const [stricter, looser] = nearbyLimits(buildable.slopeLimitPct, buildable.bySlopeLimit);
  numbers.push({
    name: "Ground left to build on",
    likely: format.ground(buildable.areaFt2),
    range:
      stricter && looser
        ? `${fromTo(format.ground(stricter.areaFt2), format.ground(looser.areaFt2), "the same")} if the slope rule is ${stricter.limitPct} or ${looser.limitPct}\u00a0%`
        : `by a slope rule of ${buildable.slopeLimitPct}\u00a0%`,
    compare: `${capital(shareInWords(buildable.sharePct))} of the lot, which has ${format.ground(lot.areaFt2)}.`,
  });
  if (!shown) return numbers;
  const loads = shown.cost.hauledLoads;
  const some = loads.p90 >= 1;
  const step = Math.max(1, (loads.p90 - loads.p10) / 4);
  const printed = roundTo(loads.p50, stepFor(step));
  const what = `house${shown.driveway ? ", driveway" : ""}${shown.foundation.piers > 0 ? " and post holes" : ""}`;
  numbers.push({
    name: "Truckloads of dirt on the road",
    likely: some ? `about ${format.count(loads.p50, step)}` : "none",
    range: some
      ? fromTo(format.count(loads.p10), format.count(loads.p90))
      : "dug and filled dirt about match",
    compare: some
      ? `For ${what.replace(/^house, driveway$/, "house and driveway")}. Each passes the neighbors twice: ${format.count(2 * printed)} ${plural(2 * printed, "pass", "passes")}.`
      : "A flat lot would be much the same.",
  });
  const { p10, p50, p90 } = shown.cost.hillsidePremiumUsd;
  numbers.push(
    cannotTell
      ? {
          name: "Extra cost against flat land",
          likely: "not shown",
          range: "the survey does not carry it",
          compare: "Ask again with a better survey.",
        }
      : {
          name: "Extra cost against flat land",
          likely: format.money(p50),
          // A low end below zero would puzzle a buyer: there the hill may cost nothing extra.
          range: p10 > 0 ? moneyRange(p10, p90) : `none to ${format.money(Math.max(p90, 0))}`,
          compare: `The same house on flat land: about ${format.money(shown.cost.flatLotP50Usd)} in all.`,
        },
  );
  const [early, middle, late] = shown.schedule.untilFrameMonths;
  numbers.push({
    name: "Months until the frame can start",
    likely: format.months(middle),
    range: fromTo(format.months(early), format.months(late)),
    compare: `From your accepted offer. On flat land about ${format.months(shown.schedule.flatUntilFrameMonths[1])}.`,
  });
  return numbers;
}

/** A range, its unit once where both ends share it; other words where both ends are printed alike. */
function fromTo(low: string, high: string, alike = "hardly more or less"): string {
  if (low === high) return alike;
  const [number, unit] = low.split("\u00a0");
  return unit !== undefined && high.endsWith(`\u00a0${unit}`) ? `${number} to ${high}` : `${low} to ${high}`;
}

/** The next lower and next higher slope limit of the curve. */
function nearbyLimits(
  limitPct: number,
  curve: readonly { readonly limitPct: number; readonly areaFt2: number }[],
) {
  const below = curve.filter((c) => c.limitPct < limitPct).at(-1);
  const above = curve.find((c) => c.limitPct > limitPct);
  return [below, above] as const;
}

/** The all-in comparison with a flat lot, when both prices were given. */
function priceTalk({ study, format }: Source, shown: Source["chosen"]): string[] | undefined {
  const offer = shown?.cost.offer;
  if (!shown || !offer) return undefined;
  const premium = asPrinted(shown.cost.hillsidePremiumUsd.p50);
  const asking = offer.askingUsd;
  if (offer.flatLotUsd === null)
    return [
      `The lot asks ${format.money(asking)}. Add about ${format.money(premium)} for the hill before you compare it with a flat lot.`,
    ];
  // A reader adds up what is printed.
  const gap = asPrinted(offer.flatLotUsd - asking);
  const over = premium - gap;
  const start =
    gap > 0
      ? `The lot is ${format.money(gap)} below a flat lot, ${premium > gap ? "but the hill probably adds" : "and the hill probably adds"} ${format.money(premium)}.`
      : `The lot costs as much as a flat lot or more, and the hill probably adds ${format.money(premium)}.`;
  const end =
    over > 0.05 * study.schemes[0]!.cost.flatLotP50Usd || over > 0.1 * premium
      ? `Unless the price drops by about ${format.money(over)}, flat land is the cheaper house.`
      : over > 0
        ? "The two come out about even."
        : `That leaves about ${format.money(-over)} in favor of this lot, if the middle numbers hold.`;
  return [start, end];
}

/** Two ways to build whose whole jobs differ by less than this share of what the hill adds cost about the same. */
const ALIKE_SHARE = 0.03;

/** One other way to build, never five on this page. */
function secondChoice({ study, format }: Source, best: Source["chosen"]): string | undefined {
  if (!best) return undefined;
  const others = study.schemes.filter(
    (scheme) => scheme.id !== best.id && scheme.feasible && (scheme.driveway || !best.driveway),
  );
  // By the whole job, as the recommended way was chosen: the twins on flat land may differ in basement and garage.
  const next = others.sort((a, b) => a.cost.p50Usd - b.cost.p50Usd)[0];
  if (!next) return undefined;
  const by = next.cost.p50Usd - best.cost.p50Usd;
  const compared =
    Math.abs(by) < ALIKE_SHARE * best.cost.hillsidePremiumUsd.p50
      ? "the whole job costs about the same"
      : `the whole job costs about ${format.money(Math.abs(by))} ${by > 0 ? "more" : "less"}`;
  return `The next best way to build is “${next.name}”: ${compared}.`;
}

const SPEND_IN_STEPS = [
  { step: "Make the free calls: planner, sewer, map office, insurer.", price: "$0" },
  { step: "Ask a soils engineer to walk the lot and write one letter.", price: "about $1,000 to $3,000" },
  { step: "Only then order the full soils report.", price: "about $6,000 to $24,000" },
  { step: "Only then pay for a first design.", price: "$10,000 and up" },
] as const;
