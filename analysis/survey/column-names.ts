/** What the words over the columns mean. */
import type { LengthUnit } from "../units.js";
import { unitOfWord } from "./numbers.js";

export type ColumnRole = "point" | "northing" | "easting" | "elevation" | "description" | "line";

/** Names without blanks and punctuation, best first: of two columns for one role the earlier name wins. */
const SYNONYMS: Readonly<Record<ColumnRole, readonly string[]>> = {
  northing: [
    "northing",
    "northings",
    "north",
    "norte",
    "hochwert",
    "n",
    "latitude",
    "lat",
    "y",
    "ycoord",
    "ycoordinate",
    "coordy",
  ],
  easting: [
    "easting",
    "eastings",
    "east",
    "este",
    "rechtswert",
    "e",
    "longitude",
    "long",
    "lon",
    "lng",
    "x",
    "xcoord",
    "xcoordinate",
    "coordx",
  ],
  elevation: [
    "elevation",
    "elev",
    "el",
    "groundelevation",
    "groundelev",
    "height",
    "altitude",
    "alt",
    "cota",
    "hohe",
    "level",
    "rl",
    "z",
    "zcoord",
    "zcoordinate",
    "coordz",
    "h",
  ],
  description: [
    "description",
    "desc",
    "descr",
    "rawdescription",
    "rawdesc",
    "fulldescription",
    "code",
    "featurecode",
    "feature",
    "remarks",
    "remark",
    "notes",
    "note",
    "comment",
    "d",
    "type",
    "label",
  ],
  line: ["line", "lineno", "linename", "lineid", "breakline", "string", "figure"],
  point: [
    "point",
    "pointno",
    "pointnumber",
    "pointnum",
    "pointname",
    "pointid",
    "pt",
    "ptno",
    "ptnum",
    "ptid",
    "pnt",
    "pntno",
    "p",
    "corner",
    "cornerno",
    "cor",
    "station",
    "shot",
    "number",
    "num",
    "no",
    "id",
    "name",
  ],
};

export interface ColumnName {
  readonly role: ColumnRole;
  /** Position among the synonyms: smaller is plainer. */
  readonly rank: number;
  readonly unit: LengthUnit | null;
  readonly degrees: boolean;
  /** x and y do not say which of them is north. */
  readonly saysAxis: boolean;
}

const LONGEST_NAME = 60;

/** The role a header word names, or null. "Elev. (ft)" is an elevation in feet. */
export function readColumnName(header: string): ColumnName | null {
  if (header.length > LONGEST_NAME) return null;
  const { name, unit } = withoutUnit(header.toLowerCase().replaceAll("ö", "o").trim());
  const bare = name.replace(/[^a-z]/g, "");
  if (header.trim() === "#") return { role: "point", rank: 0, unit: null, degrees: false, saysAxis: true };
  for (const role of Object.keys(SYNONYMS) as ColumnRole[]) {
    const rank = SYNONYMS[role].indexOf(bare);
    if (rank >= 0)
      return {
        role,
        rank,
        unit,
        degrees: /^(lat|lon|lng)/.test(bare),
        saysAxis: !/^(coord)?[xy]/.test(bare),
      };
  }
  return null;
}

function withoutUnit(header: string): { name: string; unit: LengthUnit | null } {
  const match = /^(.+?)[\s_\-([{.:,/]+([a-z][a-z\s_-]*)[\s)\]}.]*$/.exec(header);
  const unit = match ? unitOfWord(match[2]!) : null;
  return unit ? { name: match![1]!, unit } : { name: header, unit: null };
}

/** Zero-based place of each column that is known. */
export type Columns = Readonly<Partial<Record<ColumnRole, number>>>;

/** Column of each role under a header; fewer than two roles found means the line is no header. */
export function readHeader(
  cells: readonly string[],
): { columns: Columns; names: ReadonlyMap<ColumnRole, ColumnName> } | null {
  const names = new Map<ColumnRole, ColumnName>();
  const columns: Partial<Record<ColumnRole, number>> = {};
  cells.forEach((cell, column) => {
    const name = readColumnName(cell);
    if (!name || (names.get(name.role)?.rank ?? Infinity) <= name.rank) return;
    names.set(name.role, name);
    columns[name.role] = column;
  });
  return names.size >= 2 ? { columns, names } : null;
}

/** The columns a request tells, without the ones it leaves open. */
export function toldColumns(told: Readonly<Partial<Record<ColumnRole, number | undefined>>>): Columns {
  return Object.fromEntries(Object.entries(told).filter(([, column]) => column !== undefined));
}
