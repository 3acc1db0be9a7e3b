/** Numbers with their units, for readers in the US or metric. */
import { published } from "../../analysis/measure.js";
import { METRES_PER_FOOT, SQUARE_FEET_PER_ACRE } from "../../analysis/units.js";
import { given, roundTo, stepFor, tenfoldStep, written } from "../../analysis/written-number.js";
import { limitIn, sentenceIn, valueIn } from "./measured-sentence.js";

export type Display = "us" | "metric";

const CUBIC_METRES_PER_CUBIC_YARD = (3 * METRES_PER_FOOT) ** 3;
const LITRES_PER_CUBIC_FOOT = METRES_PER_FOOT ** 3 * 1000;
const NBSP = "\u00a0";
/** One half of a range below which a number says nothing more. */
const DEFAULT_DOUBT_SHARE = 0.05;

export type Format = ReturnType<typeof makeFormat>;

/** Every function takes the study's own units (feet, yd³, US dollars) and returns text for the reader's. */
export function makeFormat(display: Display, measured: readonly string[] = []) {
  const metric = display === "metric";
  const toLength = (ft: number) => (metric ? ft * METRES_PER_FOOT : ft);
  const toArea = (ft2: number) => (metric ? ft2 * METRES_PER_FOOT ** 2 : ft2);
  const toVolume = (yd3: number) => (metric ? yd3 * CUBIC_METRES_PER_CUBIC_YARD : yd3);
  const lengthUnit = metric ? "m" : "ft";
  const areaUnit = metric ? "m²" : "ft²";
  const volumeUnit = metric ? "m³" : "yd³";

  const count = (value: number, doubt = 1) => written(value, stepFor(doubt));
  const number = (value: number, doubt: number) => written(value, stepFor(doubt));
  /** Heights and short lengths: to a tenth, a survey's own resolution. */
  const length = (ft: number, doubtFt = 0.1) =>
    `${written(toLength(ft), metric ? tenfoldStep(toLength(doubtFt)) : stepFor(doubtFt))}${NBSP}${lengthUnit}`;
  const area = (ft2: number, doubtFt2 = shareOf(ft2, 0.01)) =>
    `${written(toArea(ft2), stepFor(Math.max(toArea(doubtFt2), metric ? 0.1 : 0)))}${NBSP}${areaUnit}`;
  const volume = (yd3: number, doubtYd3 = shareOf(yd3, DEFAULT_DOUBT_SHARE)) => {
    const step = stepFor(Math.max(toVolume(doubtYd3), 1));
    const little = yd3 > 0 && toVolume(yd3) < step / 2;
    return `${little ? `under ${written(step, step)}` : written(toVolume(yd3), step)}${NBSP}${volumeUnit}`;
  };
  const percent = (pct: number, doubt = 1) => `${written(pct, stepFor(doubt))}${NBSP}%`;

  return {
    display,
    metric,
    lengthUnit,
    areaUnit,
    volumeUnit,
    toLength,
    toArea,
    toVolume,
    count,
    /** A length somebody typed: as typed in feet, to a centimetre in metres. */
    typed: (ft: number) => `${given(roundTo(toLength(ft), 0.01))}${NBSP}${lengthUnit}`,
    number,
    /** A sentence of the study, its measures in the reader's units. */
    say: sentenceIn(metric, measured),
    /** A limit of a published rule in feet: metric readers get both. */
    published: (ft: number) => limitIn(metric, published(ft, "ft")),
    /** A chosen value, or several in one text, with its unit. */
    withUnit: (text: string, unit: string) => valueIn(metric, text, unit),
    given,
    length,
    area,
    /** Ground as people say it: acres or hectares where it is large. */
    ground: (ft2: number) => (ft2 < LARGE_FT2 ? area(ft2) : largeArea(ft2, metric)),
    volume,
    percent,
    money,
    moneyRange,
    moneyTick,
    moneyShort,
    months,
    elevation: (ft: number) => length(ft, 0.1),
    /** A height along a contour: digits alone, as surveyors write it. */
    contour: (ft: number) => written(toLength(ft), metric ? 0.1 : 1).replaceAll(",", ""),
    /** "1 foot up for every 4 feet along": the way a person feels a slope. */
    oneIn: (pct: number) => oneIn(pct, metric),
    angle: (degrees: number) => `${written(degrees, 1)}°`,
    /** Flow of water. */
    flow: (cfs: number) => flow(cfs, metric),
    /** Rain for a short time. */
    rain: (inPerHr: number) =>
      metric ? `${written(inPerHr * 25.4, 1)}${NBSP}mm/h` : `${given(inPerHr)}${NBSP}in/h`,
    inches: (inches: number) =>
      metric ? `${written(inches * 25.4, 10)}${NBSP}mm` : `${written(inches, 1)}${NBSP}in`,
  };
}

/** From three acres on, square feet say little. */
const LARGE_FT2 = 3 * SQUARE_FEET_PER_ACRE;
const FT2_PER_HECTARE = 1e4 / METRES_PER_FOOT ** 2;

function largeArea(ft2: number, metric: boolean): string {
  const value = metric ? ft2 / FT2_PER_HECTARE : ft2 / SQUARE_FEET_PER_ACRE;
  return `${given(roundTo(value, stepFor(value / 100)))}${NBSP}${metric ? "ha" : "acres"}`;
}

function shareOf(value: number, share: number): number {
  return Math.max(1, Math.abs(value) * share);
}

/** In tenths of a cubic foot, or litres, a second; less than a half of one is said so. */
function flow(cfs: number, metric: boolean): string {
  const [amount, unit] = metric ? [cfs * LITRES_PER_CUBIC_FOOT, "l/s"] : [cfs, "cfs"];
  const step = metric ? stepFor(Math.max(1, amount * DEFAULT_DOUBT_SHARE)) : 0.1;
  return amount > 0 && amount < step / 2
    ? `under ${given(step)}${NBSP}${unit}`
    : `${written(amount, step)}${NBSP}${unit}`;
}

/** Two significant figures, never cents: "$520,000", "$1.7 million". */
export function money(usd: number): string {
  const size = Math.abs(usd);
  if (size < 1) return "$0";
  const rounded = roundTo(size, figureStep(size));
  const step = figureStep(rounded);
  const sign = usd < 0 ? "−" : "";
  if (rounded >= 1e6) return `${sign}$${written(rounded / 1e6, step / 1e6)}${NBSP}million`;
  return `${sign}$${written(rounded, step)}`;
}

/** The amount a reader sees, for sums that must agree with what is printed. */
export function asPrinted(usd: number): number {
  return Math.abs(usd) < 1 ? 0 : roundTo(usd, figureStep(Math.abs(usd)));
}

/** Step of the second figure, whole dollars at least. */
function figureStep(usd: number): number {
  return Math.max(1, 10 ** (Math.floor(Math.log10(usd) + 1e-12) - 1));
}

/** "$410,000 to $930,000"; the word million is said once. */
export function moneyRange(lowUsd: number, highUsd: number): string {
  const [low, high] = [money(lowUsd), money(highUsd)];
  const million = `${NBSP}million`;
  return low.endsWith(million) && high.endsWith(million)
    ? `${low.slice(0, -million.length)} to ${high.slice(1)}`
    : `${low} to ${high}`;
}

/** For axes: "$0", "$250k", "$1.5M". */
export function moneyTick(usd: number): string {
  const size = Math.abs(usd);
  const sign = usd < 0 ? "−" : "";
  if (size >= 1e6) return `${sign}$${given(roundTo(size / 1e6, 0.01))}M`;
  return size === 0 ? "$0" : `${sign}$${given(roundTo(size / 1e3, 0.1))}k`;
}

/** Two figures, short: "$520k", "$1.7M". */
export function moneyShort(usd: number): string {
  return moneyTick(asPrinted(usd));
}

/** Whole months from six on, half months below. */
export function months(value: number): string {
  return String(roundTo(value, value >= 6 ? 1 : 0.5));
}

function oneIn(pct: number, metric: boolean): string {
  if (pct < 2) return "nearly level";
  const along = 100 / pct;
  const shown = roundTo(along, along >= 8 ? 1 : 0.5);
  const [one, many] = metric ? ["meter", "meters"] : ["foot", "feet"];
  return shown < 1
    ? `more than 1 ${one} up for every ${one} along`
    : `1 ${one} up for every ${shown === 1 ? one : `${shown} ${many}`} along`;
}
