/** Sentences of a study in the reader's units: the measures they carry are said anew. */
import { inUs, inUsUnits, type Measure, type MeasureUnit, sayMeasures } from "../../analysis/measure.js";
import { METRES_PER_FOOT, POUNDS_PER_TON, SQUARE_FEET_PER_ACRE } from "../../analysis/units.js";
import { given, roundTo, stepFor, tenfoldStep, written } from "../../analysis/written-number.js";

const NBSP = "\u00a0";
/** Avoirdupois pound, exact (NIST SP 811). */
const KG_PER_POUND = 0.45359237;
const M2_PER_FT2 = METRES_PER_FOOT ** 2;
const M3_PER_YD3 = (3 * METRES_PER_FOOT) ** 3;

interface MetricUnit {
  readonly factor: number;
  readonly words: string;
  /** No measured value is printed finer. */
  readonly finest: number;
}

const METRIC: Readonly<Record<MeasureUnit, MetricUnit>> = {
  ft: { factor: METRES_PER_FOOT, words: "m", finest: 0.01 },
  feet: { factor: METRES_PER_FOOT, words: "meters", finest: 0.1 },
  "feet in a ratio": { factor: 1, words: "meters", finest: 1 },
  in: { factor: 25.4, words: "mm", finest: 1 },
  "ft²": { factor: M2_PER_FT2, words: "m²", finest: 1 },
  "square feet": { factor: M2_PER_FT2, words: "square meters", finest: 1 },
  acre: { factor: SQUARE_FEET_PER_ACRE * M2_PER_FT2, words: "m²", finest: 10 },
  "yd³": { factor: M3_PER_YD3, words: "m³", finest: 1 },
  "cubic yards": { factor: M3_PER_YD3, words: "cubic meters", finest: 1 },
};

/**
 * Says a sentence of the study. Study documents hold it in US units; `measured` holds the same sentences with their
 * measures, which is what metric readers are told. A published limit keeps its unit and has the metric beside it.
 */
export function sentenceIn(metric: boolean, measured: readonly string[]): (text: string) => string {
  if (!metric) return (text) => text;
  const carried = new Map(measured.map((text) => [inUsUnits(text), text]));
  return (text) => {
    const found = carried.get(text);
    return found === undefined ? text : sayMeasures(found, inMetric);
  };
}

/** A published limit in a sentence of the report's own. */
export function limitIn(metric: boolean, text: string): string {
  return metric ? sayMeasures(text, inMetric) : inUsUnits(text);
}

function inMetric(measure: Measure): string {
  if (measure.unit === "acre" && Math.max(...measure.values) >= LEAST_HECTARES_ACRES)
    return inHectares(measure);
  const { values, unit, doubt, between } = measure;
  const { factor, words, finest } = METRIC[unit];
  const number = (value: number) =>
    doubt > 0
      ? written(value * factor, tenfoldStep(Math.max(doubt * factor, finest)))
      : chosenNumber(value * factor);
  const said = `${values.map(number).join(between)}${NBSP}${words}`;
  return measure.published ? `${inUs(measure)} (${said})` : said;
}

/** From three acres on, hectares say more than square meters. */
const LEAST_HECTARES_ACRES = 3;

function inHectares({ values, doubt, between }: Measure): string {
  const { factor } = METRIC.acre;
  const step = stepFor(Math.max(0.1, (doubt * factor) / 1e4));
  return `${values.map((acres) => given(roundTo((acres * factor) / 1e4, step))).join(between)}${NBSP}hectares`;
}

/** Units of assumed values, beyond those of sentences. */
const METRIC_VALUES: Readonly<Record<string, Pick<MetricUnit, "factor" | "words">>> = {
  ...METRIC,
  tons: { factor: POUNDS_PER_TON * KG_PER_POUND * 0.001, words: "tonnes" },
  "lb/yd³": { factor: KG_PER_POUND / M3_PER_YD3, words: "kg/m³" },
  "in/h": { factor: 25.4, words: "mm/h" },
  "ft/s": { factor: METRES_PER_FOOT, words: "m/s" },
  "ft per in": { factor: METRES_PER_FOOT / 2.54, words: "m per cm" },
};

/** A chosen value with its unit; `text` may hold several numbers: "12 / 16 / 25". */
export function valueIn(metric: boolean, text: string, unit: string): string {
  const to = metric ? METRIC_VALUES[unit] : undefined;
  if (!to) return unit ? `${text} ${unit}` : text;
  const said = text.replace(/\d[\d,]*(?:\.\d+)?/g, (n) =>
    chosenNumber(Number(n.replaceAll(",", "")) * to.factor),
  );
  return `${said}${NBSP}${to.words}`;
}

/** A chosen number converted: two decimals, never more than four figures. */
function chosenNumber(value: number): string {
  return given(Math.abs(value) >= 100 ? Number(value.toPrecision(3)) : roundTo(value, 0.01));
}
