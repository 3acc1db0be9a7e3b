/** What a deed says about one curve, and the course it makes. */
import { arcLength, type Curve, chordLength, deltaOfArc, deltaOfChord } from "./arc.js";
import { type Bearing, findDistance, type Length, readAngle, readLength } from "./call-text.js";
import type { Course } from "./traverse.js";

/** Parts of a curve as written; a deed gives two or three of them. Lengths are in feet or metres as written. */
export interface CurveWords {
  readonly radius?: Length;
  readonly deltaDeg?: number;
  readonly arc?: Length;
  readonly chord?: Length;
  readonly chordAzimuthDeg?: number;
  /** Direction from the centre to the beginning of the curve. */
  readonly radialAzimuthDeg?: number;
  readonly turn?: "left" | "right";
  /** Direction from the curve towards its centre. */
  readonly concaveDeg?: number;
}

export const CURVE_WORD = /\b(?:curve|arc|radius|delta|central\s+angle)\b|\bR\s*=|Δ/i;

const OF = String.raw`\s*(?:of|=|:|is)?\s*`;
const PATTERNS = {
  radius: [new RegExp(String.raw`\bradius${OF}`, "i"), /\bR\s*[=:]\s*/, /\bR\s*(?=\d)/],
  delta: [new RegExp(String.raw`(?:\bcentral\s+angle|\bdelta(?:\s+angle)?|Δ)${OF}`, "i"), /\bD\s*[=:]\s*/],
  arc: [
    new RegExp(String.raw`\barc(?:\s+(?:length|distance))?${OF}(?=[\d.])`, "i"),
    /\bL\s*[=:]\s*/,
    /\bL\s*(?=\d)/,
    /\b(?:curve|arc)\b(?:(?!radius|delta|angle|chord|\b[RLDC]\b)[^\d;]){0,80}?(?=\d)/i,
  ],
  chord: [
    new RegExp(String.raw`\bchord(?:\s+(?:length|distance))?${OF}(?=[\d.])`, "i"),
    /\b(?:C|CH|CD|LC)\s*[=:]\s*(?=[\d.])/,
  ],
} as const;
const RADIUS_BEHIND = /(\d+(?:\.\d+)?)[\s-]*(?:foot|feet|ft\.?|')[\s-]*radius/i;
const POINTS: Readonly<Record<string, number>> = {
  north: 0,
  northeast: 45,
  east: 90,
  southeast: 135,
  south: 180,
  southwest: 225,
  west: 270,
  northwest: 315,
};

/** Reads the parts of a curve out of its words. */
export function readCurve(text: string, bearings: readonly Bearing[]): CurveWords {
  const behind = (patterns: readonly RegExp[]): string | null => {
    for (const pattern of patterns) {
      const match = pattern.exec(text);
      if (match) return text.slice(match.index + match[0].length);
    }
    return null;
  };
  const lengthBehind = (patterns: readonly RegExp[]) => {
    const rest = behind(patterns);
    return rest === null ? null : readLength(rest);
  };
  const radiusBehind = RADIUS_BEHIND.exec(text);
  const radius = radiusBehind ? readLength(`${radiusBehind[1]} ft`) : lengthBehind(PATTERNS.radius);
  const deltaText = behind(PATTERNS.delta);
  const deltaDeg = deltaText === null ? null : readAngle(deltaText);
  const radial = bearings.find((_, k) => bearingUse(text, bearings, k) === "radial");
  const chordBearing = bearings.find((_, k) => bearingUse(text, bearings, k) === "chord");
  const chord =
    (chordBearing ? findDistance(text.slice(chordBearing.end)) : null) ?? lengthBehind(PATTERNS.chord);
  const arc = lengthBehind(PATTERNS.arc);
  const turn = turnOf(text);
  const concave = /concave\s+(?:to\s+the\s+)?(north|south)?[-\s]?(east|west)?/i.exec(text);
  const towards = POINTS[`${concave?.[1] ?? ""}${concave?.[2] ?? ""}`.toLowerCase()];
  return {
    ...(radius ? { radius } : {}),
    ...(deltaDeg === null ? {} : { deltaDeg }),
    ...(arc ? { arc } : {}),
    ...(chord ? { chord } : {}),
    ...(chordBearing ? { chordAzimuthDeg: chordBearing.azimuthDeg } : {}),
    ...(radial ? { radialAzimuthDeg: radial.azimuthDeg } : {}),
    ...(turn ? { turn } : {}),
    ...(towards === undefined ? {} : { concaveDeg: towards }),
  };
}

/** What the k-th bearing of a curve's words is for, by the words between it and the one before. */
export function bearingUse(
  text: string,
  bearings: readonly Bearing[],
  k: number,
): "chord" | "radial" | "course" {
  const before = text.slice(bearings[k - 1]?.end ?? 0, bearings[k]!.start);
  if (/radial/i.test(before)) return "radial";
  return /chord|\bCB\b|\bCH\b|bears|bearing/i.test(before) ? "chord" : "course";
}

function turnOf(text: string): "left" | "right" | null {
  if (/counter-?\s?clockwise|\bccw\b/i.test(text)) return "left";
  if (/clockwise|\bcw\b/i.test(text)) return "right";
  const match = /\b(right|left|RT|LT)\b/i.exec(text);
  if (!match) return null;
  return match[1]!.toUpperCase().startsWith("R") ? "right" : "left";
}

export interface ResolvedCurve {
  readonly course: Course;
  /** Heading at the end of the curve. */
  readonly outDeg: number;
  /** Said twice and differently: "arc 104.90 against R·Δ = 104.72". */
  readonly disagreement: string | null;
}

/** Redundant lengths may differ by this from what radius and central angle give. */
const SLACK_FT = 0.05;
/** Angle by which a chord must turn off the way in before it tells left from right. */
const TELLING_DEG = 0.02;

/** The course of a curve entered with heading `inDeg` (null when unknown); a string says what is missing. */
export function resolveCurve(
  words: CurveWords,
  inDeg: number | null,
  toUnit: (length: Length) => number,
): ResolvedCurve | string {
  if (!words.radius) return "the curve has no radius";
  const radius = toUnit(words.radius);
  if (!(radius > 0)) return "the radius of the curve is zero";
  const arc = words.arc && toUnit(words.arc);
  const chord = words.chord && toUnit(words.chord);
  const deltaDeg =
    words.deltaDeg ?? (arc ? deltaOfArc(radius, arc) : chord ? deltaOfChord(radius, chord) : Number.NaN);
  if (!(deltaDeg > 0 && deltaDeg < 360))
    return "the curve has no central angle, arc or chord that fits its radius";
  const heading = headingIn(words, inDeg);
  const turn = words.turn ?? turnByCentre(words, heading) ?? turnByChord(words, heading);
  if (!turn) return "the curve does not say whether it turns right or left";
  const half = (turn === "right" ? deltaDeg : -deltaDeg) / 2;
  const chordAzimuth = words.chordAzimuthDeg ?? (heading === null ? null : heading + half);
  if (chordAzimuth === null) return "the curve comes first and has no chord bearing";
  const curve: Curve = { radius, deltaDeg, turn };
  return {
    course: { azimuthDeg: norm(chordAzimuth), length: chordLength(curve), curve },
    outDeg: norm(chordAzimuth + half),
    disagreement: disagreementOf(curve, arc, chord),
  };
}

/** Heading at the beginning of the curve: square to the radial line where the words give one, else that of the course before. */
function headingIn(words: CurveWords, inDeg: number | null): number | null {
  if (words.radialAzimuthDeg === undefined) return inDeg;
  return words.turn ? words.radialAzimuthDeg + (words.turn === "right" ? 90 : -90) : inDeg;
}

function turnByCentre({ concaveDeg }: CurveWords, heading: number | null): "left" | "right" | null {
  if (concaveDeg === undefined || heading === null) return null;
  return Math.sin(((concaveDeg - heading) * Math.PI) / 180) > 0 ? "right" : "left";
}

function turnByChord({ chordAzimuthDeg }: CurveWords, heading: number | null): "left" | "right" | null {
  if (chordAzimuthDeg === undefined || heading === null) return null;
  const off = norm(chordAzimuthDeg - heading + 180) - 180;
  return Math.abs(off) < TELLING_DEG ? null : off > 0 ? "right" : "left";
}

function disagreementOf(curve: Curve, arc: number | undefined, chord: number | undefined): string | null {
  const slack = (length: number) => SLACK_FT + length / 5_000;
  const arcByAngle = arcLength(curve);
  if (arc !== undefined && Math.abs(arc - arcByAngle) > slack(arcByAngle))
    return `arc ${arc.toFixed(2)} is written, radius and central angle give ${arcByAngle.toFixed(2)}`;
  const chordByAngle = chordLength(curve);
  if (chord !== undefined && Math.abs(chord - chordByAngle) > slack(chordByAngle))
    return `chord ${chord.toFixed(2)} is written, radius and central angle give ${chordByAngle.toFixed(2)}`;
  return null;
}

function norm(deg: number): number {
  return ((deg % 360) + 360) % 360;
}
