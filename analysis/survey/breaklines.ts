/** Lines along which the ground breaks: from a file of their own, from a "line" column, from codes that say so. */
import type { Point, Point3 } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import { descriptionReader } from "./descriptions.js";
import { readFeatures } from "./geojson.js";
import type { IntakeNotes } from "./notes.js";
import type { PointTable } from "./point-table.js";

/** A corner without a height takes that of a shot within this distance. */
const SAME_PLACE_FT = 0.1;
const MOST_CORNERS = 200_000;

export type Breakline = readonly Point3[];

/**
 * Breaklines of a topo table in local feet: shots with one word in the line column, or consecutive shots with one
 * description among `codes.breakline`, joined in the order of the file. Rows that were left out are no corners.
 */
export function breaklinesOfTable(
  table: PointTable,
  codes: StudyRequest["survey"]["codes"],
  lostRows: ReadonlySet<number>,
): Breakline[] {
  const read = descriptionReader(codes);
  const isBreak = table.words.map((word) => read(word).breakline);
  const at = (i: number): Point3 => [table.easting[i]!, table.northing[i]!, table.elevation[i]!];
  const byWord = new Map<number, Point3[]>();
  const runs: Point3[][] = [];
  let runOf = -1;
  for (let i = 0; i < table.count; i++) {
    const line = table.line[i]!;
    const word = table.description[i]!;
    const isLost = () => lostRows.has(table.row[i]!);
    if (line >= 0) {
      if (isLost()) continue;
      const corners = byWord.get(line);
      if (corners) corners.push(at(i));
      else byWord.set(line, [at(i)]);
      runOf = -1;
    } else if (word >= 0 && isBreak[word]) {
      if (isLost()) continue;
      if (runOf === word) runs.at(-1)!.push(at(i));
      else runs.push([at(i)]);
      runOf = word;
    } else if (runOf >= 0 && !isLost()) runOf = -1;
  }
  return [...byWord.values(), ...runs].filter((line) => line.length >= 2);
}

interface BreaklineInput {
  /** GeoJSON lines in survey coordinates. */
  readonly source: unknown;
  readonly toLocal: (at: Point) => Point;
  readonly verticalFeetPerUnit: number;
  readonly table: PointTable;
}

/** Breaklines of a GeoJSON value. Corners without a height take it from a shot at the same place; lines that find none are left out with a warning. */
export function readBreaklines(
  { source, toLocal, verticalFeetPerUnit, table }: BreaklineInput,
  notes: IntakeNotes,
): Breakline[] {
  const features = readFeatures(source);
  const corners =
    features?.reduce((sum, f) => sum + f.geometry.lines.reduce((s, line) => s + line.length, 0), 0) ?? 0;
  if (!features || corners > MOST_CORNERS) {
    notes.problems.push({
      code: "breaklines-not-geojson",
      where: "breaklines",
      message: features
        ? `The breaklines have ${corners} corners; at most ${MOST_CORNERS} are read.`
        : "The breaklines are not GeoJSON lines with numeric positions.",
      remedy: "Send LineStrings in survey coordinates: [easting, northing, elevation].",
    });
    return [];
  }
  const heightAt = heightsOfShots(table);
  const lines: Breakline[] = [];
  const without: number[] = [];
  features.forEach(({ geometry }, i) => {
    if (geometry.type === "Point" || geometry.type === "MultiPoint") return;
    for (const positions of geometry.lines) {
      const line = positions.flatMap(([x, y, z]): Point3[] => {
        const [east, north] = toLocal([x!, y!]);
        const height = z === undefined ? heightAt(east, north) : z * verticalFeetPerUnit;
        return height === null ? [] : [[east, north, height]];
      });
      if (line.length === positions.length && line.length >= 2) lines.push(line);
      else without.push(i + 1);
    }
  });
  if (without.length > 0)
    notes.warnings.push({
      code: "breaklines-left-out",
      message: `Breaklines with corners that have no height and lie on no shot, or with one corner only, were left out: features ${without.slice(0, 20).join(", ")}.`,
      remedy: "Give each corner a third number, its elevation.",
      rows: without,
    });
  return lines;
}

/** Height of a shot at a place, by cells of the tolerance. */
function heightsOfShots({
  count,
  easting,
  northing,
  elevation,
}: PointTable): (east: number, north: number) => number | null {
  let byCell: Map<string, number> | null = null;
  const key = (x: number, y: number) => `${Math.round(x / SAME_PLACE_FT)} ${Math.round(y / SAME_PLACE_FT)}`;
  return (east, north) => {
    if (!byCell) {
      byCell = new Map();
      for (let i = 0; i < count; i++) byCell.set(key(easting[i]!, northing[i]!), elevation[i]!);
    }
    for (const dx of [0, -1, 1])
      for (const dy of [0, -1, 1]) {
        const height = byCell.get(key(east + dx * SAME_PLACE_FT, north + dy * SAME_PLACE_FT));
        if (height !== undefined) return height;
      }
    return null;
  };
}
