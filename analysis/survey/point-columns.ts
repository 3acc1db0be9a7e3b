/** Which column is which: as told, by header, or by what the columns hold. */
import type { Problem } from "../assumptions.js";
import type { LengthUnit } from "../units.js";
import { type Columns, readHeader } from "./column-names.js";
import { readMeasure } from "./numbers.js";
import type { TextLayout } from "./text-layout.js";

export interface PointColumns {
  readonly columns: Columns & { readonly northing: number; readonly easting: number };
  readonly because: string;
  /** Who says which axis is north: a name for it (or the caller), a bare x and y, or nobody. */
  readonly axes: "named" | "x-y" | "guessed";
  readonly degrees: boolean;
  readonly unit: LengthUnit | null;
  /** Said of the elevations themselves. */
  readonly verticalUnit: LengthUnit | null;
}

interface Wanted {
  readonly where: "topo" | "boundary";
  readonly told: Columns | undefined;
  readonly elevation: boolean;
}

/** The columns of a point file, or the problem that a person must settle. */
export function findColumns(layout: TextLayout, wanted: Wanted): PointColumns | Problem {
  if (wanted.told?.northing !== undefined && wanted.told.easting !== undefined)
    return {
      columns: { ...wanted.told, northing: wanted.told.northing, easting: wanted.told.easting },
      because: "columns given in the request",
      axes: "named",
      degrees: false,
      unit: layout.unit,
      verticalUnit: null,
    };
  const named = layout.header && byHeader(layout, wanted);
  return named ?? byContent(layout, wanted);
}

function byHeader(layout: TextLayout, { where, elevation }: Wanted): PointColumns | Problem | null {
  const header = readHeader(layout.header!);
  if (!header) return null;
  const { columns, names } = header;
  const missing = (["northing", "easting", ...(elevation ? (["elevation"] as const) : [])] as const).filter(
    (role) => columns[role] === undefined,
  );
  if (missing.length > 0)
    return {
      code: "columns-missing",
      where,
      message: `The header names no ${missing.join(" and no ")}: it reads ${layout.header!.map((c) => `"${c}"`).join(", ")}.`,
      remedy: `Name the columns point, northing, easting${elevation ? ", elevation" : ""}, description, or give their places in survey.${where === "topo" ? "columns" : "boundaryColumns"}.`,
    };
  const unit = names.get("northing")!.unit ?? names.get("easting")!.unit ?? layout.unit;
  const saysAxes = names.get("northing")!.saysAxis && names.get("easting")!.saysAxis;
  return {
    columns: { ...columns, northing: columns.northing!, easting: columns.easting! },
    because: `header: ${[...names.keys()].map((role) => `${role} from "${layout.header![columns[role]!]}"`).join(", ")}`,
    axes: saysAxes ? "named" : "x-y",
    degrees: names.get("northing")!.degrees || names.get("easting")!.degrees,
    unit,
    verticalUnit: names.get("elevation")?.unit ?? null,
  };
}

/** The trade's orders: point, two coordinates, elevation, description; or x, y, z. */
function byContent(layout: TextLayout, { where, elevation }: Wanted): PointColumns | Problem {
  const isNumber = numericColumns(layout);
  const need = elevation ? 3 : 2;
  const runFrom = (start: number) => {
    let length = 0;
    while (isNumber[start + length]) length++;
    return length;
  };
  const pointFirst = runFrom(1) >= need && (!isNumber[0] || looksLikePointNumbers(layout));
  const start = pointFirst ? 1 : 0;
  if (runFrom(start) < need)
    return {
      code: "columns-not-recognised",
      where,
      row: layout.firstDataRow,
      message: `No ${need} columns side by side hold numbers throughout, so it is not clear which are the coordinates.`,
      remedy: `Put a header line above the data (point, northing, easting${elevation ? ", elevation" : ""}, description) or give the places in survey.${where === "topo" ? "columns" : "boundaryColumns"}.`,
    };
  const after = start + need;
  const width = Math.max(...layout.sample.map((fields) => fields.length));
  return {
    columns: {
      ...(pointFirst ? { point: 0 } : {}),
      ...(pointFirst ? { northing: 1, easting: 2 } : { easting: 0, northing: 1 }),
      ...(elevation ? { elevation: start + 2 } : {}),
      ...(after < width && elevation ? { description: after } : {}),
    },
    because: pointFirst
      ? `no header; ${isNumber[0] ? "the first column holds whole numbers, no two alike, as point numbers do," : "the first column holds names"} and ${need} columns of numbers follow`
      : `no header; the first ${need} columns hold numbers and none looks like point numbers`,
    axes: "guessed",
    degrees: false,
    unit: layout.unit,
    verticalUnit: null,
  };
}

const NUMERIC_SHARE = 0.9;

function numericColumns({ sample, mark }: TextLayout): boolean[] {
  const width = Math.max(...sample.map((fields) => fields.length));
  return Array.from({ length: width }, (_, column) => {
    const numbers = sample.filter((fields) => readMeasure(fields[column] ?? "", mark) !== null).length;
    return numbers >= NUMERIC_SHARE * sample.length;
  });
}

/** Whole numbers, no two alike, that count up by ones or stand before columns with decimals. */
function looksLikePointNumbers({ sample }: TextLayout): boolean {
  const cells = sample.map((fields) => fields[0] ?? "");
  const whole = cells.filter((cell) => /^\d{1,9}$/.test(cell));
  if (whole.length < NUMERIC_SHARE * cells.length || new Set(whole).size < NUMERIC_SHARE * whole.length)
    return false;
  if (sample.some((fields) => /[.,]\d/.test(fields[1] ?? "") && /[.,]\d/.test(fields[2] ?? ""))) return true;
  const steps = whole.slice(1).filter((cell, i) => Number(cell) - Number(whole[i]) === 1).length;
  return whole.length < 3 || steps >= (whole.length - 1) / 2;
}

/** "point, northing, easting, elevation, description": the order of the columns in words. */
export function orderInWords(columns: Columns): string {
  return Object.entries(columns)
    .sort(([, a], [, b]) => a - b)
    .map(([role]) => role)
    .join(", ");
}
