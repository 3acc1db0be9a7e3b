/** Everything a scheme moves, builds or pays, one row each. */
import { type Cell, csv } from "./csv.js";
import type { StudyDocument } from "./study-document.js";

const HEADER = [
  "scheme",
  "source",
  "code",
  "label",
  "quantity",
  "unit",
  "low_usd",
  "likely_usd",
  "high_usd",
  "flat_lot_likely_usd",
  "hill_adds_low_usd",
  "hill_adds_middle_usd",
  "hill_adds_high_usd",
  "how",
];

/** Measured volumes: name in the study, what it says, unit with the state of the earth. */
const EARTH = [
  ["bankCutYd3", "Cut", "bank yd3"],
  ["compactedFillYd3", "Fill", "compacted yd3"],
  ["looseExportYd3", "Over from pad and basement alone", "loose yd3"],
  ["looseImportYd3", "Lacking at pad and basement alone", "loose yd3"],
  ["digYd3", "Basement dig, temporary slopes included", "bank yd3"],
  ["backfillYd3", "Backfill", "compacted yd3"],
  ["topsoilYd3", "Topsoil stripped", "bank yd3"],
  ["truckloads", "Truckloads of pad and basement alone", "loads"],
  ["disturbedFt2", "Ground disturbed", "ft2"],
  ["uncertaintyYd3", "One sigma of cut and of fill from the survey alone", "yd3"],
] as const;

export function quantitiesCsv({ schemes }: StudyDocument): string {
  const rows = schemes.flatMap(({ id, earthwork, walls, driveway, cost }): Cell[][] => [
    ...EARTH.map(([name, label, unit]) => [id, "measured", name, label, earthwork[name], unit]),
    [
      id,
      "drawn",
      "hauledLoads",
      "Truckloads of the whole job, driveway, pier spoil and backfill counted, the middle",
      cost.hauledLoads.p50,
      "loads",
    ],
    ...walls.map((wall) => [
      id,
      "measured",
      `wall-${wall.where}`,
      `${wall.kind} wall ${wall.where}, up to ${wall.retainedFt} ft retained`,
      wall.faceFt2,
      "ft2 of face",
    ]),
    ...(driveway ? [[id, "measured", "driveway", "Driveway", driveway.lengthFt, "ft"]] : []),
    ...cost.items.map((item) => [
      id,
      "priced",
      item.code,
      item.label,
      item.quantity,
      item.unit,
      item.lowUsd,
      item.likelyUsd,
      item.highUsd,
      item.flatLikelyUsd,
      item.premiumUsd.p10,
      item.premiumUsd.p50,
      item.premiumUsd.p90,
      item.trace,
    ]),
  ]);
  // Every row has every column, as RFC 4180 asks: strict readers refuse others.
  return csv([HEADER, ...rows.map((row) => HEADER.map((_, i) => plain(row[i])))]);
}

/** Signs in letters of ASCII: spreadsheets that take a file for one of their own code page show them right. */
const IN_ASCII: Readonly<Record<string, string>> = {
  "²": "2",
  "³": "3",
  "×": "x",
  "÷": "/",
  "−": "-",
  "–": "-",
};

function plain(cell: Cell): Cell {
  return typeof cell === "string" ? cell.replace(/[²³×÷−–]/g, (sign) => IN_ASCII[sign]!) : cell;
}
