/** The words of a deed: angles, bearings and distances, however they are punctuated. */
import type { LengthUnit } from "../units.js";

/** One spelling for the many signs of degrees, minutes, seconds, and no commas inside numbers. */
export function plainSigns(text: string): string {
  return text
    .replace(/[º˚∘]/g, "°")
    .replace(/[’‘′´`]/g, "'")
    .replace(/[”“″]|''/g, '"')
    .replace(/[–—−]/g, "-")
    .replace(/\bdegrees?\b|\bdeg\b\.?/gi, "°")
    .replace(/\bminutes?\b|\bmin\b\.?/gi, "'")
    .replace(/\bseconds?\b|\bsec\b\.?/gi, '"')
    .replace(/(\d),(?=\d{3}\b)/g, "$1")
    .replace(/\u00a0/g, " ");
}

/** Degrees, with minutes and seconds when given: 12°30'15", 12-30-15, 12d30m15s, 12 30 15, 45.5°. Three groups. */
const ANGLE = String.raw`(\d{1,3}(?:\.\d+)?)(?:\s*[°d]\s*-?\s*|\s*-\s*|\s+|(?=['"\s]*(?:[EW]\b|[EW]ast|[EW]est)))(?:(\d{1,2}(?:\.\d+)?)(?:\s*['m]\s*-?\s*|\s*-\s*|\s+|(?=[EW]))(?:(\d{1,2}(?:\.\d+)?)\s*(?:["s]|(?=\s*[EW]\b)|(?=\s*[EW](?:ast|est))|\s)?)?)?`;
const QUADRANT = new RegExp(
  String.raw`\b(N|S|North|South)\.?\s*${ANGLE}\s*(E|W|East|West)(?![a-z])\.?`,
  "gi",
);
const AZIMUTH_NAMED =
  /\baz(?:imuth)?\.?\s*(?:of\b|=|:)?\s*(\d{1,3}(?:\.\d+)?)\s*(?:[°d-]\s*(?:(\d{1,2}(?:\.\d+)?)\s*(?:['m-]\s*(?:(\d{1,2}(?:\.\d+)?)\s*["s]?)?)?)?)?/gi;
/** A line of a table: "226-54-23 639.15", perhaps behind "A-B" or "3)". Elsewhere an angle is no direction. */
const AZIMUTH_BARE =
  /^\s*(?:\w{1,3}\s*[:.)]\s*|[a-z]\w?\s*-\s*[a-z]\w?\s+)?(\d{1,3})\s*[°-]\s*(\d{1,2})\s*['-]\s*(\d{1,2}(?:\.\d+)?)\s*"?(?!\s*[EW]\b)/gim;
const CARDINAL =
  /\b(?:due\s+(north|south|east|west)|(north|south|east|west)(?=,?\s+(?:a\s+distance\s+of\s+)?\d))\b/gi;

export interface Bearing {
  /** Clockwise from north. */
  readonly azimuthDeg: number;
  readonly start: number;
  readonly end: number;
  /** As written. */
  readonly text: string;
  /** Minutes or seconds of 60 and more, or a quadrant angle over 90°. */
  readonly impossible: boolean;
  /** N12.3015E: decimal degrees here, degrees-minutes-seconds for some. */
  readonly decimalDoubt: boolean;
}

/** Every bearing, azimuth and cardinal direction of a text in order. */
export function findBearings(text: string): Bearing[] {
  const found: Bearing[] = [];
  const taken = (start: number, end: number) => found.some((b) => start < b.end && end > b.start);
  for (const match of text.matchAll(QUADRANT)) {
    const [whole, ns, d, m, s, ew] = match;
    const { degrees, impossible } = angleOf(d!, m, s);
    const north = ns![0]!.toUpperCase() === "N";
    const east = ew![0]!.toUpperCase() === "E";
    const azimuthDeg = north ? (east ? degrees : 360 - degrees) : east ? 180 - degrees : 180 + degrees;
    found.push({
      azimuthDeg: azimuthDeg % 360,
      start: match.index,
      end: match.index + whole.length,
      text: whole.trim(),
      impossible: impossible || degrees > 90,
      decimalDoubt: m === undefined && /^\d{1,2}\.[0-5]\d[0-5]\d$/.test(d!) && !whole.includes("°"),
    });
  }
  for (const pattern of [AZIMUTH_NAMED, AZIMUTH_BARE])
    for (const match of text.matchAll(pattern)) {
      const [whole, d, m, s] = match;
      if (taken(match.index, match.index + whole.length)) continue;
      const { degrees, impossible } = angleOf(d!, m, s);
      found.push({
        azimuthDeg: degrees % 360,
        start: match.index,
        end: match.index + whole.length,
        text: whole.trim(),
        impossible: impossible || degrees > 360,
        decimalDoubt: false,
      });
    }
  for (const match of text.matchAll(CARDINAL)) {
    const end = match.index + match[0].length;
    if (taken(match.index, end)) continue;
    const word = (match[1] ?? match[2])!.toLowerCase();
    const azimuthDeg = { north: 0, east: 90, south: 180, west: 270 }[word]!;
    found.push({
      azimuthDeg,
      start: match.index,
      end,
      text: match[0],
      impossible: false,
      decimalDoubt: false,
    });
  }
  return found.sort((a, b) => a.start - b.start);
}

/** An angle such as a central angle; null when none stands at the start of the text. */
export function readAngle(text: string): number | null {
  const match =
    /^\s*(\d{1,3}(?:\.\d+)?)\s*(?:[°d-]\s*(?:(\d{1,2}(?:\.\d+)?)\s*['m-]\s*(?:(\d{1,2}(?:\.\d+)?)\s*["s]?)?)?)?/i.exec(
      text,
    );
  if (!match) return null;
  const { degrees, impossible } = angleOf(match[1]!, match[2], match[3]);
  return impossible ? null : degrees;
}

function angleOf(
  d: string,
  m: string | undefined,
  s: string | undefined,
): { degrees: number; impossible: boolean } {
  const [minutes, seconds] = [Number(m ?? 0), Number(s ?? 0)];
  return { degrees: Number(d) + minutes / 60 + seconds / 3600, impossible: minutes >= 60 || seconds >= 60 };
}

export interface Length {
  /** In feet, unless the deed is in metres. */
  readonly value: number;
  readonly unit: LengthUnit | null;
}

/** Old units of deeds in feet, exact: a chain is 66 ft, a hundred links or four rods. */
const FEET_IN: readonly (readonly [RegExp, number])[] = [
  [/^ch(ains?)?$/i, 66],
  [/^(links?|lks?)$/i, 0.66],
  [/^(rods?|poles?|perch(es)?)$/i, 16.5],
];
const NUMBER = String.raw`(\d+(?:\.\d+)?|\.\d+)`;
const UNIT = String.raw`(u\.?s\.?\s*survey\s+f(?:ee|oo)t|us-?ft|feet|foot|ft|'|met(?:er|re)s?|m|chains?|ch|links?|lks?|rods?|poles?|perch(?:es)?)(?![a-z])`;
const AFTER_DISTANCE_OF = new RegExp(
  String.raw`\bdist(?:ance)?\.?(?:\s+of)?\s*[:=]?\s*${NUMBER}(?:\s*${UNIT})?`,
  "i",
);
const RIGHT_BEHIND = new RegExp(String.raw`^[\s,:;=/-]*(?:for\s+)?${NUMBER}(?:\s*${UNIT})?`, "i");
const WITH_UNIT = new RegExp(String.raw`(?<![\w.])${NUMBER}\s*${UNIT}`, "i");

/** The distance in the words behind a bearing: the number after "distance of", else the one right behind, else the first with a unit. */
export function findDistance(tail: string): Length | null {
  const match = AFTER_DISTANCE_OF.exec(tail) ?? RIGHT_BEHIND.exec(tail) ?? WITH_UNIT.exec(tail);
  return match ? lengthOf(match[1]!, match[2]) : null;
}

/** The length at the start of a text. */
export function readLength(text: string): Length | null {
  const match = RIGHT_BEHIND.exec(text);
  return match ? lengthOf(match[1]!, match[2]) : null;
}

function lengthOf(digits: string, word: string | undefined): Length {
  const value = Number(digits);
  if (word === undefined) return { value, unit: null };
  if (/^m/i.test(word)) return { value, unit: "m" };
  const old = FEET_IN.find(([name]) => name.test(word));
  if (old) return { value: value * old[1], unit: "ft" };
  return { value, unit: /^u/i.test(word) ? "us-ft" : "ft" };
}
