/** The report's words for the study's codes. */

import type { DrainTier } from "../../analysis/drainage/drainage.js";
import type { Severity } from "../../analysis/findings/finding.js";
import type { WaterfallStep } from "../../analysis/lot/lot.js";
import type { SchemeKind } from "../../analysis/schemes/scheme.js";
import type { FoundationKind } from "../../analysis/structure/structure.js";
import type { SchemeResult } from "../../analysis/study/result.js";
import type { Format } from "./format.js";

export const KIND_WORDS: Readonly<Record<SchemeKind, string>> = {
  "level-pad": "one level pad",
  "stepped-pad": "pads in steps down the hill",
  "daylight-basement": "lower floor open on the downhill side",
  "full-basement": "basement in the ground on all sides",
  "pier-raised": "house raised on piers, ground left alone",
  "fixed-pad": "pad as given",
};

export const FOUNDATION_WORDS: Readonly<Record<FoundationKind, string>> = {
  slab: "slab on the ground",
  raised: "raised floor on stepped footings",
  "pier-and-grade-beam": "drilled piers and grade beams",
};

export const GARAGE_WORDS: Readonly<Record<SchemeResult["garage"], string>> = {
  attached: "at the house",
  detached: "on its own",
  none: "none",
};

export const STEP_WORDS: Readonly<Record<WaterfallStep["reason"], string>> = {
  lot: "The whole lot",
  setback: "Setbacks from the lot lines",
  easement: "Easements and no-build areas",
  tree: "Room around trees",
  watercourse: "Room beside water",
  unsurveyed: "Ground nobody surveyed",
  slope: "Ground steeper than the limit",
  narrow: "Strips too narrow to build on",
};

export const TIER_WORDS: Readonly<Record<DrainTier["tier"], string>> = {
  "under-slab": "Under the slab",
  wall: "At the foot of the walls",
  "roof-and-surface": "Roof and surface water",
};

/** Each severity has a word and a shape, so that neither colour nor word stands alone. */
export const SEVERITY_WORDS: Readonly<Record<Severity, { readonly word: string; readonly mark: string }>> = {
  stop: { word: "Stops the job unless answered", mark: "■" },
  concern: { word: "Concern", mark: "◆" },
  watch: { word: "Watch", mark: "▲" },
  info: { word: "Good to know", mark: "○" },
};

const COMPASS = [
  "north",
  "northeast",
  "east",
  "southeast",
  "south",
  "southwest",
  "west",
  "northwest",
] as const;

function compass(azimuthDeg: number): string {
  return COMPASS[((Math.round(azimuthDeg / 45) % 8) + 8) % 8]!;
}

/** Ground less steep than this falls nowhere that anybody would see. */
const LEVEL_PCT = 0.5;

/** Which way a lot falls, in words: "The ground falls toward the south". */
export function fallOfLot({
  aspectDeg,
  meanSlopePct,
}: {
  readonly aspectDeg: number;
  readonly meanSlopePct: number;
}): string {
  return meanSlopePct < LEVEL_PCT
    ? "The ground is nearly level"
    : `The ground falls toward the ${compass(aspectDeg)}`;
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Text of the study as sentences: each begins with a capital, the last ends with a stop. */
export function sentences(text: string): string {
  const begun = capital(text.trim()).replace(
    /([.!?] )([a-z])/g,
    (_, stop: string, c: string) => stop + c.toUpperCase(),
  );
  return /[.!?]$/.test(begun) ? begun : `${begun}.`;
}

export function plural(count: number, one: string, many = `${one}s`): string {
  return Math.round(count) === 1 ? one : many;
}

/** Whether a way to build meets the rules given, in as many words as it takes. */
export function fitInWords({ feasible, driveway, structure }: SchemeResult): string {
  const but = [driveway ? "" : "no driveway found", structure.heightOk ? "" : "too tall"].filter(Boolean);
  return !feasible ? "no" : but.length ? `the ground, yes; but ${but.join(", ")}` : "yes";
}

/** "dug up to 4 ft, filled up to 2 ft", the half that is hardly there left out. */
export function dugAndFilled({ earthwork: e }: SchemeResult, format: Format): string {
  const parts = [
    ["dug", e.maxCutFt],
    ["filled", e.maxFillFt],
  ] as const;
  const told = parts
    .filter(([, ft]) => ft >= LEAST_DEPTH_FT)
    .map(([word, ft]) => `${word} up to ${format.length(ft, 0.5)}`);
  return told.length > 0 ? told.join(", ") : "hardly dug or filled";
}

/** Less than this is lost in the half foot depths are rounded to. */
const LEAST_DEPTH_FT = 0.25;

/** Share of a whole as people say it: "about a third". */
export function shareInWords(sharePct: number): string {
  if (sharePct < 1) return "next to nothing";
  const spoken: [number, string][] = [
    [5, "one twentieth"],
    [10, "one tenth"],
    [20, "one fifth"],
    [25, "one quarter"],
    [33, "one third"],
    [40, "two fifths"],
    [50, "half"],
    [60, "three fifths"],
    [67, "two thirds"],
    [75, "three quarters"],
    [80, "four fifths"],
    [90, "nine tenths"],
  ];
  if (sharePct > 95) return "nearly all";
  const nearest = spoken.reduce((a, b) => (Math.abs(b[0] - sharePct) < Math.abs(a[0] - sharePct) ? b : a));
  return `about ${nearest[1]}`;
}

/** "November 25, 2026", read off the clock of the service in UTC. */
export function dateInWords(iso: string): string {
  const date = new Date(iso);
  if (Number.isNaN(date.getTime())) return iso;
  return date.toLocaleDateString("en-US", {
    year: "numeric",
    month: "long",
    day: "numeric",
    timeZone: "UTC",
  });
}
