/** Quantities of the price list in words: no field of the study document and no code of the cost book reaches a reader. */
import { SQUARE_FEET_PER_ACRE } from "../../analysis/units.js";
import { given } from "../../analysis/written-number.js";
import type { Format } from "./format.js";

/** Fields of the study document that a quantity is traced to. */
const FIELD_WORDS: Readonly<Record<string, string>> = {
  "earthwork.disturbedFt2": "the ground disturbed",
  "earthwork.topsoilYd3": "topsoil",
  "earthwork.bankCutYd3": "cut for the pad",
  "earthwork.digYd3": "dig",
  "earthwork.compactedFillYd3": "fill for the pad",
  "earthwork.backfillYd3": "put back",
  "earthwork.looseExportYd3": "left over from the pad",
  "foundation.gradeBeamFt": "all grade beams",
  "foundation.slabFt2": "area of the slab",
  "foundation.raisedFloorFt2": "area of the raised floor",
  "basement.wallFaceFt2": "basement walls",
  "basement.waterproofFt2": "basement walls in the ground",
  "basement.shoringFt2": "braced side of the dig",
  "basement.underSlabFt2": "under the basement slab",
  "basement.buriedWallFt": "length of buried wall",
  "drainage.swale.lengthFt": "the ditch",
  "driveway.pavedFt2": "paved driveway",
};

/** Codes of the cost book that an uncertain event is priced with. */
const CODE_WORDS: Readonly<Record<string, string>> = {
  "ROCK-RIP": "ripping",
  "ROCK-BREAK": "hammering",
  DEWATER: "keeping the dig dry",
  "EXCAV-BSMT": "digging",
  EXCAV: "digging",
  HAUL: "hauling",
  DUMP: "dump fees",
  IMPORT: "fill brought in",
  FILL: "filling",
  SHORE: "shoring",
  SUMP: "a pit with pumps",
  SEPTIC: "a septic system",
  PIER: "piers",
  RIG: "a drill rig",
  GRADEBM: "grade beams",
  VOIDFORM: "void forms under the beams",
  "SLAB-STRUCT": "a stiffer slab",
  SLAB: "slab",
};

const CODE = new RegExp(`\\b(${Object.keys(CODE_WORDS).join("|")})\\b(?!-)`, "g");
const FIELD = /\b(?:[a-z]+\.)+[a-z]\w*\b/g;

/** Where a quantity comes from, as a builder would say it. */
export function traceInWords(trace: string): string {
  const words = trace
    .replace(FIELD, (field) => FIELD_WORDS[field] ?? field)
    .replace(CODE, (code) => `${CODE_WORDS[code]}:`)
    .replace(/: once\b/g, "")
    .replace(/\b\d{4,}\b/g, (digits) => given(Number(digits)));
  return words.charAt(0).toUpperCase() + words.slice(1);
}

const STATE_WORDS: Readonly<Record<string, string>> = {
  bank: "in the ground",
  loose: "in the truck",
  compacted: "rolled",
  face: "of face",
};
const SHARE_WORDS: Readonly<Record<string, string>> = { HOUSE: "the house", works: "the works" };

/** An amount of the price list with its unit: "170 yd³ in the ground", "once", "14 % of the works"; to a hundredth of it, or to its own doubt. */
export function quantityInWords(amount: number, unit: string, format: Format, doubt = 0): string {
  if (unit === "chance") return amount >= 1 ? "certain" : `${format.percent(100 * amount, 5)} chance`;
  if (amount === 0) return "none here";
  if (unit === "ls") return "once";
  const fine = unit === "acre" ? 0.01 : amount < 10 ? 0.1 : 1;
  const step = Math.max(fine, amount * 0.01, doubt);
  const number = format.number(amount, step).replace(/\.0+$|(\.\d*?)0+$/, "$1");
  if (unit === "each") return number;
  if (unit === "season" || unit === "month") return `${number} ${amount === 1 ? unit : `${unit}s`}`;
  const share = unit.match(/^(?:%|share) of (.*)$/);
  if (share) return `${number} % of ${SHARE_WORDS[share[1]!] ?? share[1]}`;
  const [, state, base, rest] = unit.match(/^(?:(bank|loose|compacted|face) )?(ft2|yd3|ft|acre)(.*)$/) ?? [];
  if (!base) return `${number} ${unit}`;
  const measured =
    base === "ft"
      ? format.length(amount, step)
      : base === "ft2"
        ? format.area(amount, step)
        : base === "yd3"
          ? format.volume(amount, step)
          : format.metric
            ? format.area(amount * SQUARE_FEET_PER_ACRE, 100)
            : `${number} ${amount === 1 ? "acre" : "acres"}`;
  return `${measured}${state ? ` ${STATE_WORDS[state]}` : ""}${rest}`;
}
