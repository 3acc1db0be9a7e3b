/** Dirt: clearing, digging, filling, hauling. */

import type { Earthwork } from "../earthwork/earthwork.js";
import { areaFt2, polygonsContain } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import { CUBIC_FEET_PER_CUBIC_YARD, INCHES_PER_FOOT, SQUARE_FEET_PER_ACRE } from "../units.js";
import { volumeDoubtYd3, written } from "../written-number.js";
import type { QuantityLine } from "./bill.js";
import { hillsideShare, shareWords } from "./list-paperwork.js";
import type { SchemeParts } from "./scheme-parts.js";

/** Ground cleared beyond what is disturbed, ft. Common practice, no source. */
const CLEARED_BEYOND_FT = 10;
const LEAST_CLEARED_ACRES = 0.25;
/** A drive longer or steeper than this makes it dear to bring machines. Common practice, no source. */
const LONG_DRIVE_FT = 150;
const STEEP_DRIVE_PCT = 18;
const HARD_MOBILISATION = 1.5;
/** The book's haul price holds up to a round trip of an hour; each half hour more adds a share. From memory. */
const HAUL_INCLUDED_MIN = 60;
const HAUL_STEP_MIN = 30;
const HAUL_STEP_SHARE = 0.35;
const LEAST_TREE_TRUNK_IN = 12;
const LEAST_TOLD_YD3 = 0.5;

export function earthLines(site: Site, { design, access, structure }: SchemeParts): QuantityLine[] {
  const { request, survey } = site;
  const { earthwork, graded } = design;
  const { swellPct, shrinkPct } = request.soil;
  const swell = 1 + swellPct / 100;
  const compactedPerBank = 1 - shrinkPct / 100;
  const drive = access.reachable ? access.driveway : null;
  const driveCut = drive?.bankCutYd3 ?? 0;
  const driveFill = drive?.compactedFillYd3 ?? 0;
  const overexcavation = design.overexcavationYd3;
  const doubtYd3 = volumeDoubtYd3(earthwork);
  const pad = (yd3: number) => measure(yd3, "yd³", doubtYd3);

  const disturbedFt2 = earthwork.disturbedFt2 + (drive?.pavedFt2 ?? 0);
  // a strip around the disturbed ground taken as a square
  const clearedFt2 = (Math.sqrt(disturbedFt2) + 2 * CLEARED_BEYOND_FT) ** 2;
  const trees = survey.features.filter(
    (f) =>
      f.kind === "tree" &&
      (f.trunkIn === undefined || f.trunkIn > LEAST_TREE_TRUNK_IN) &&
      (polygonsContain(graded.cut, f.at) || polygonsContain(graded.fill, f.at)),
  ).length;

  // the room of the basement, dug and not filled again, is already in the bank cut of the design
  const buildingYd3 = Math.max(0, earthwork.digYd3 - earthwork.backfillYd3);
  const openCut = Math.max(0, earthwork.bankCutYd3 - buildingYd3) + driveCut + overexcavation;
  const fill = earthwork.compactedFillYd3 + driveFill + overexcavation * compactedPerBank;

  const { foundation } = structure;
  const holeFt2 = (Math.PI / 4) * (foundation.pierDiameterIn / INCHES_PER_FOOT) ** 2;
  const spoilBankYd3 = (foundation.piers * foundation.pierDepthFt[1] * holeFt2) / CUBIC_FEET_PER_CUBIC_YARD;
  // rolled back, the earth from beside the basement does not fill the room it came from
  const backfillShort = earthwork.backfillYd3 * (1 / compactedPerBank - 1);
  const besidePad = (driveCut - driveFill / compactedPerBank + spoilBankYd3 - backfillShort) * swell;
  const { haulLoose, importLoose } = shareOut(earthwork, besidePad);
  const importYd3 = (importLoose / swell) * compactedPerBank;
  const haulFactor =
    1 + (HAUL_STEP_SHARE * Math.max(0, request.haul.roundTripMin - HAUL_INCLUDED_MIN)) / HAUL_STEP_MIN;
  // higher ground than surveyed: more cut, less fill, and both leave
  const cutSigma = earthwork.uncertaintyYd3;
  const netSigma = earthwork.uncertaintyYd3 * (1 + 1 / compactedPerBank) * swell;
  const erosionShare = hillsideShare("EROSION", site, design);
  const hard = drive && (drive.lengthFt > LONG_DRIVE_FT || drive.maxGradePct > STEEP_DRIVE_PCT);

  return [
    {
      code: "MOBIL",
      quantity: 1,
      unit: "ls",
      cause: "none",
      factor: hard ? HARD_MOBILISATION : 1,
      trace: hard
        ? `the drive is ${measure(drive.lengthFt, "ft", 1)} long and up to ${Math.round(drive.maxGradePct)} % steep: × ${HARD_MOBILISATION}`
        : "once",
    },
    {
      code: "CLEAR",
      quantity: Math.max(LEAST_CLEARED_ACRES, clearedFt2 / SQUARE_FEET_PER_ACRE),
      unit: "acre",
      cause: "none",
      trace: `earthwork.disturbedFt2 and the drive, ${measure(disturbedFt2, "ft²", 1)}, with ${measure(CLEARED_BEYOND_FT, "ft")} around; at least ${measure(LEAST_CLEARED_ACRES, "acre")}`,
    },
    {
      code: "TREE",
      quantity: trees,
      unit: "each",
      cause: "none",
      trace: `trees over ${measure(LEAST_TREE_TRUNK_IN, "in")} shot inside the cut and fill`,
    },
    {
      code: "TOPSOIL",
      quantity: earthwork.topsoilYd3,
      unit: "bank yd3",
      cause: "topsoil",
      trace: `earthwork.topsoilYd3: ${measure(request.rules.topsoilFt, "ft")} over the disturbed ground`,
    },
    {
      code: "EXCAV",
      quantity: openCut,
      unit: "bank yd3",
      cause: "ground",
      surveySigma: cutSigma,
      trace: `earthwork.bankCutYd3 ${pad(earthwork.bankCutYd3)}${part("less the basement", buildingYd3)}${part("driveway", driveCut)}${part("dug out and put back", overexcavation)}`,
    },
    {
      code: "EXCAV-BSMT",
      quantity: earthwork.digYd3,
      unit: "bank yd3",
      cause: "ground",
      trace: "earthwork.digYd3: basement, working space and temporary slopes",
    },
    {
      code: "KEYBENCH",
      quantity: design.keyBenchYd3,
      unit: "bank yd3",
      cause: "ground",
      trace: "key and benches under the fill",
    },
    {
      code: "FILL",
      quantity: Math.max(0, fill - importYd3),
      unit: "compacted yd3",
      cause: "ground",
      surveySigma: earthwork.compactedFillYd3 > 0 ? -cutSigma : 0,
      trace: `earthwork.compactedFillYd3 ${pad(earthwork.compactedFillYd3)}${part("driveway", driveFill)}${part("put back", overexcavation * compactedPerBank)}${part("less what is brought and placed", importYd3)}`,
    },
    {
      code: "BACKFILL",
      quantity: earthwork.backfillYd3,
      unit: "compacted yd3",
      cause: "ground",
      trace: "earthwork.backfillYd3: behind the basement walls",
    },
    ...(["HAUL", "DUMP"] as const).map(
      (code): QuantityLine => ({
        code,
        quantity: haulLoose,
        unit: "loose yd3",
        cause: "ground",
        swells: true,
        surveySigma: netSigma,
        factor: code === "HAUL" ? haulFactor : 1,
        trace: `earthwork.looseExportYd3 ${pad(earthwork.looseExportYd3)}, with driveway, pier spoil and backfill ${signed(haulLoose - earthwork.looseExportYd3)}${code === "HAUL" && haulFactor > 1 ? `; round trip ${request.haul.roundTripMin} min: × ${written(haulFactor, 0.01)}` : ""}`,
      }),
    ),
    {
      code: "IMPORT",
      quantity: importYd3,
      unit: "compacted yd3",
      cause: "ground",
      trace: "fill that the cut and the spoil do not cover",
    },
    {
      code: "EROSION",
      quantity: 1,
      unit: "season",
      cause: "none",
      factor: erosionShare,
      trace: `one wet season over ${measure(areaFt2(graded.cut) + areaFt2(graded.fill), "ft²", 1)} of cut and fill${shareWords(erosionShare, site, design)}`,
    },
  ];
}

/** Earth over from the driveway and the piers fills the pad first and leaves otherwise; earth lacking is kept back from the trucks first. */
function shareOut(
  { looseExportYd3, looseImportYd3 }: Earthwork,
  besidePad: number,
): { readonly haulLoose: number; readonly importLoose: number } {
  const saved = besidePad >= 0 ? Math.min(looseImportYd3, besidePad) : Math.min(looseExportYd3, -besidePad);
  return besidePad >= 0
    ? { haulLoose: looseExportYd3 + besidePad - saved, importLoose: looseImportYd3 - saved }
    : { haulLoose: looseExportYd3 - saved, importLoose: looseImportYd3 - besidePad - saved };
}

/** One more part of a volume, where there is any. */
function part(words: string, yd3: number): string {
  return yd3 < LEAST_TOLD_YD3 ? "" : `, ${words} ${measure(yd3, "yd³", 1)}`;
}

function signed(yd3: number): string {
  return `${yd3 < 0 ? "−" : "+"}${measure(Math.abs(yd3), "yd³", 1)}`;
}
