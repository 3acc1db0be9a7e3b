/**
 * Measures inside sentences. A stage writes `the cut is ${measure(deepFt, "ft", 0.5)} deep`: the text then carries
 * value, unit and rounding, hidden between two rare brackets, until somebody says it. Study documents say it in US
 * units; a report says it in its reader's.
 */
import { given, roundTo, stepFor, written } from "./written-number.js";

/** How a measure is said in US units. Words spelled out are for sentences a buyer reads. */
const US_WORDS = {
  ft: { one: "ft" },
  feet: { one: "foot", many: "feet" },
  /** Rise or run of a ratio: the number is the same in every unit. */
  "feet in a ratio": { one: "foot", many: "feet" },
  in: { one: "in" },
  "ft²": { one: "ft²" },
  "square feet": { one: "square foot", many: "square feet" },
  acre: { one: "acre", many: "acres" },
  "yd³": { one: "yd³" },
  "cubic yards": { one: "cubic yard", many: "cubic yards" },
} as const;

export type MeasureUnit = keyof typeof US_WORDS;

export interface Measure {
  /** One or more values of one unit. */
  readonly values: readonly number[];
  readonly unit: MeasureUnit;
  /** Doubt the values are rounded to; 0 for values somebody chose, which are written as they are. */
  readonly doubt: number;
  /** Between several values: " to ", " × ". */
  readonly between: string;
  /** A limit of a published rule: it keeps its own unit, others may stand beside it. */
  readonly published: boolean;
}

/** Text that carries a measure, for a sentence. Doubt 0: written as it is. */
export function measure(
  values: number | readonly number[],
  unit: MeasureUnit,
  doubt = 0,
  between = " to ",
): string {
  return carried({
    values: typeof values === "number" ? [values] : values,
    unit,
    doubt,
    between,
    published: false,
  });
}

/** Text that carries a limit of a published rule. */
export function published(values: number | readonly number[], unit: MeasureUnit, between = " to "): string {
  return carried({
    values: typeof values === "number" ? [values] : values,
    unit,
    doubt: 0,
    between,
    published: true,
  });
}

function carried({ values, unit, doubt, between, published }: Measure): string {
  return `⟦${values.join(",")}|${unit}|${doubt}|${between}|${published ? 1 : 0}⟧`;
}

const CARRIED = /⟦([-\d.,e+]+)\|([^|⟧]+)\|([\d.e+-]+)\|([^|⟧]*)\|([01])⟧/g;

export function carriesMeasure(text: string): boolean {
  return text.includes("⟦");
}

/** The text with every measure said by the given function. */
export function sayMeasures(text: string, say: (measure: Measure) => string): string {
  return text.replace(CARRIED, (whole, values: string, unit: string, doubt: string, between: string, rule) =>
    unit in US_WORDS
      ? say({
          values: values.split(",").map(Number),
          unit: unit as MeasureUnit,
          doubt: Number(doubt),
          between,
          published: rule === "1",
        })
      : whole,
  );
}

/** The text in US units, as study documents print it. */
export function inUsUnits(text: string): string {
  return carriesMeasure(text) ? sayMeasures(text, inUs) : text;
}

/** One measure in US units: "12.5 ft", "10 to 22 ft". */
export function inUs({ values, unit, doubt, between }: Measure): string {
  const words: { readonly one: string; readonly many?: string } = US_WORDS[unit];
  const last = values.at(-1)!;
  const shown = doubt > 0 ? roundTo(last, stepFor(doubt)) : last;
  const number = (value: number) => {
    if (doubt === 0) return given(value);
    return unit === "acre" ? given(roundTo(value, stepFor(doubt))) : written(value, stepFor(doubt));
  };
  const one = shown === 1 || (unit === "acre" && shown < 1);
  return `${values.map(number).join(between)} ${one ? words.one : (words.many ?? words.one)}`;
}
