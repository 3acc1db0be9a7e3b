/** What a shot is of, by its description. */
import type { StudyRequest } from "../request/request.js";
import type { SurveyFeature } from "./survey.js";

export interface CodeMeaning {
  readonly kind: SurveyFeature["kind"] | "ground" | "ignored";
  /** Whether the shot lies on the natural surface and may carry a facet. */
  readonly ground: boolean;
  /** False when no rule knew the code and it was taken for ground. */
  readonly known: boolean;
  /** May be joined with its neighbours on the same line. */
  readonly breakline: boolean;
}

interface CodeRule {
  readonly kind: CodeMeaning["kind"];
  readonly ground: boolean;
  readonly words: readonly string[];
}

/**
 * Words of common field codes, first rule met wins; * stands for any ending. Common practice, no source. Cautious:
 * what may stand above or below the ground (roofs, pipes, wires, wall tops) carries no facet; pavement, curbs,
 * found corners and the foot of a tree do.
 */
const RULES: readonly CodeRule[] = [
  { kind: "utility", ground: false, words: ["INV", "INVERT", "IE", "FLI", "OHW", "OHE", "WIRE", "OVERHEAD"] },
  {
    kind: "structure",
    ground: false,
    words: [
      "BLDG*",
      "BLD",
      "BUILDING*",
      "HSE",
      "HOUSE",
      "ROOF*",
      "EAVE*",
      "GARAGE",
      "SHED",
      "BARN",
      "FF",
      "FFE",
      "FINFLR",
      "DECK",
      "PORCH",
      "CHIMNEY",
      "TW",
      "TOW",
      "WALLTOP",
      "RETWALL",
      "WALL",
      "PARAPET",
      "BRIDGE",
      "STAIR*",
      "STEPS",
    ],
  },
  {
    kind: "monument",
    ground: true,
    words: [
      "MON",
      "MONUMENT*",
      "IP",
      "IPF",
      "IPS",
      "FIP",
      "SIP",
      "IR",
      "IRF",
      "IRS",
      "PIN",
      "REBAR*",
      "RBR",
      "RBF",
      "CAP",
      "PROP",
      "PROPCOR",
      "CORNER",
      "BRASS",
      "LSCAP",
      "HUB",
    ],
  },
  { kind: "other", ground: false, words: ["BM", "TBM", "BENCH*", "CP", "CTRL", "CONTROL", "TRAV*", "STN"] },
  {
    kind: "utility",
    ground: false,
    words: [
      "SSMH",
      "SDMH",
      "MH",
      "MANHOLE",
      "SSCO",
      "CO",
      "CB",
      "DI",
      "CATCH*",
      "INLET",
      "HYD*",
      "FH",
      "WM",
      "WV",
      "GV",
      "GM",
      "EM",
      "METER*",
      "VALVE*",
      "PP",
      "UP",
      "POLE*",
      "GUY*",
      "ANCHOR",
      "TRANS*",
      "VAULT",
      "PED",
      "LP",
      "SIGN*",
      "GAS*",
      "SEWER*",
      "PIPE*",
      "CULV*",
      "CMP",
      "RCP",
    ],
  },
  {
    kind: "street",
    ground: true,
    words: [
      "CL",
      "EP",
      "EOP",
      "EC",
      "TBC",
      "TC",
      "BC",
      "FOC",
      "FL",
      "GUT*",
      "CURB*",
      "LIP",
      "ROAD*",
      "RD",
      "STREET",
      "PAVE*",
      "ASPH*",
      "AC",
      "CONC*",
      "SW",
      "SIDEWALK",
      "DWY",
      "DRIVE*",
      "XWALK",
    ],
  },
  { kind: "water", ground: false, words: ["WS", "WATERSURF*"] },
  {
    kind: "water",
    ground: true,
    words: [
      "CREEK*",
      "CRK",
      "STREAM*",
      "SPRING*",
      "SEEP*",
      "POND*",
      "EOW",
      "EW",
      "WATER",
      "DITCH*",
      "SWALE*",
      "TOB",
      "WETLAND*",
      "RIVER*",
    ],
  },
  { kind: "rock", ground: false, words: ["BOULDER*", "BLDR*"] },
  { kind: "rock", ground: true, words: ["ROCK*", "OUTCROP*", "LEDGE*", "BEDROCK"] },
  {
    kind: "tree",
    ground: true,
    words: [
      "TREE*",
      "TR",
      "OAK*",
      "LIVEOAK*",
      "PINE*",
      "FIR",
      "DFIR",
      "CEDAR*",
      "REDWOOD*",
      "MAPLE*",
      "MADRON*",
      "BAY",
      "LAUREL*",
      "EUC*",
      "PALM*",
      "ASH",
      "ELM*",
      "BIRCH*",
      "BEECH*",
      "WALNUT*",
      "HICKORY*",
      "PECAN*",
      "CYPRESS*",
      "CYP",
      "SYCAMORE*",
      "SYC",
      "ALDER*",
      "WILLOW*",
      "JUNIPER*",
      "SPRUCE*",
      "HEMLOCK*",
      "LOCUST*",
      "POPLAR*",
      "ASPEN*",
      "COTTONWOOD*",
      "MAGNOLIA*",
      "CHESTNUT*",
      "CHERRY*",
      "DOGWOOD*",
      "BUCKEYE*",
      "CONIFER*",
      "DECID*",
      "STUMP*",
    ],
  },
  {
    kind: "ground",
    ground: true,
    words: [
      "GS",
      "GND*",
      "GRND",
      "GROUND*",
      "G",
      "NG",
      "EG",
      "OG",
      "SHOT*",
      "SPOT*",
      "SPT",
      "TOPO*",
      "NATIVE",
      "DIRT*",
      "GRASS*",
      "TOP*",
      "TOE*",
      "CREST*",
      "GB",
      "BRK*",
      "BREAK*",
      "BL",
      "RIDGE*",
      "VALLEY*",
      "SLOPE*",
      "BANK*",
      "FENCE*",
      "FNC",
      "FE",
      "BW",
      "GRADE*",
      "BRUSH*",
      "XS",
      "TRAIL*",
      "PATH*",
      "GRAVEL*",
      "PT",
      "PNT",
      "POINT",
    ],
  },
];

const GROUND_UNKNOWN: CodeMeaning = { kind: "ground", ground: true, known: false, breakline: false };

/** Reads descriptions by the table above, after the caller's own codes. Empty descriptions are ground. */
export function descriptionReader(
  codes: StudyRequest["survey"]["codes"],
): (description: string) => CodeMeaning {
  const own = (["ground", "breakline", "tree", "structure", "utility", "ignore"] as const).map((kind) => ({
    kind,
    patterns: (codes?.[kind] ?? []).map(wildcard),
  }));
  return (description) => {
    const text = description.trim().toUpperCase();
    if (text === "") return { ...GROUND_UNKNOWN, known: true };
    const words = wordsOf(text);
    const mine = own.find(({ patterns }) => patterns.some((fits) => fits(text) || words.some(fits)));
    if (mine) return ownMeaning(mine.kind);
    const rule = COMPILED.find(({ matches }) => words.some(matches));
    return rule ? { kind: rule.kind, ground: rule.ground, known: true, breakline: false } : GROUND_UNKNOWN;
  };
}

function ownMeaning(kind: "ground" | "breakline" | "tree" | "structure" | "utility" | "ignore"): CodeMeaning {
  if (kind === "ground" || kind === "breakline")
    return { kind: "ground", ground: true, known: true, breakline: kind === "breakline" };
  if (kind === "ignore") return { kind: "ignored", ground: false, known: true, breakline: false };
  return { kind, ground: kind === "tree", known: true, breakline: false };
}

/** Words without digits and punctuation: "OAK18" and "OAK 18" are both OAK. */
function wordsOf(text: string): string[] {
  return text.split(/[^A-Z]+/).filter((word) => word !== "");
}

/** "OAK*" to a test of a whole word or description; * stands for anything, every other character for itself. */
function wildcard(pattern: string): (text: string) => boolean {
  const [head = "", ...rest] = pattern.trim().toUpperCase().split(/\*+/);
  const tail = rest.pop();
  if (tail === undefined) return (text) => text === head;
  return (text) => {
    if (!text.startsWith(head)) return false;
    let from = head.length;
    for (const part of rest) {
      const at = text.indexOf(part, from);
      if (at < 0) return false;
      from = at + part.length;
    }
    return text.length - tail.length >= from && text.endsWith(tail);
  };
}

const COMPILED = RULES.map(({ kind, ground, words }) => {
  const exact = new Set(words.filter((word) => !word.includes("*")));
  const open = words.filter((word) => word.includes("*")).map(wildcard);
  return { kind, ground, matches: (word: string) => exact.has(word) || open.some((fits) => fits(word)) };
});

/** Largest trunk believed, inches. */
const WIDEST_TRUNK_IN = 150;

/**
 * Trunk diameter in a tree's description, inches: "OAK 18", '18" OAK', "OAK18IN", "PINE 40CM", "OAK 12,14" (several
 * stems: the root of the sum of squares, common practice, no source). Null when none is written.
 */
export function trunkInches(description: string): number | null {
  const text = description.toUpperCase();
  const numbers = Array.from(text.matchAll(/\d+(?:\.\d+)?/g), ([digits]) => Number(digits));
  const perIn = /\d\s*CM\b/.test(text) ? 1 / 2.54 : 1;
  const stems =
    /\d\s*X\s*\d/.test(text) && numbers.length === 2
      ? Array(Math.min(12, numbers[0]!)).fill(numbers[1]!)
      : numbers;
  const trunk = Math.sqrt(stems.reduce((sum, d) => sum + d * d, 0)) * perIn;
  return trunk >= 1 && trunk <= WIDEST_TRUNK_IN ? trunk : null;
}
