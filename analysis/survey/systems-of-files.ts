/** Which coordinate systems the two files are in, and the plane they are brought to. */
import type { Point } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import { between, type Crs, crsOf, isPlausible, planeThrough, WGS84 } from "./crs.js";
import type { IntakeNotes } from "./notes.js";
import type { BoundarySource, FrameSaid, TopoSource } from "./sources.js";

export interface SystemsOfFiles {
  /** Null for local coordinates. */
  readonly topo: Crs | null;
  readonly boundary: Crs | null;
}

interface Sources {
  readonly topo: TopoSource;
  readonly boundary: BoundarySource;
  readonly request: StudyRequest;
}

/** Null with a problem when a system is not known, degrees come without one, or one file is local and the other is not. */
export function systemsOfFiles(
  { topo, boundary, request }: Sources,
  notes: IntakeNotes,
): SystemsOfFiles | null {
  const { crs, boundaryCrs } = request.survey;
  const ofTopo = settle("topo", crs ?? takenOver(topo.said, boundary.said), topo.said, notes);
  const ofBoundary = settle(
    "boundary",
    boundaryCrs ?? crs ?? takenOver(boundary.said, topo.said),
    boundary.said,
    notes,
  );
  if (ofTopo === undefined || ofBoundary === undefined) return null;
  if ((ofTopo === null) !== (ofBoundary === null)) {
    const [known, local] = ofTopo ? ["topo", "boundary"] : ["boundary", "topo"];
    const { name, code } = (ofTopo ?? ofBoundary)!;
    notes.problems.push({
      code: "mixed-frames",
      where: local!,
      message: `The ${known} is in ${name} (${code}), the ${local} in local coordinates: they cannot be laid on each other.`,
      remedy: "Send both in one system, or state survey.crs and survey.boundaryCrs.",
    });
    return null;
  }
  if (crs === undefined && (topo.said.crs === null) !== (boundary.said.crs === null) && ofTopo && ofBoundary)
    notes.warnings.push({
      code: "crs-taken-over",
      message: `Only the ${topo.said.crs ? "topo" : "boundary"} names its coordinate system (${ofTopo.name}, ${ofTopo.code}); the ${topo.said.crs ? "boundary" : "topo"} was taken to be in it too.`,
      remedy: "State survey.crs, and survey.boundaryCrs where they differ.",
    });
  const first: Point | null =
    topo.points.count > 0 ? [topo.points.easting[0]!, topo.points.northing[0]!] : null;
  const fits =
    liesIn("boundary", ofBoundary, boundary.ring[0] ?? null, notes) && liesIn("topo", ofTopo, first, notes);
  return fits ? { topo: ofTopo, boundary: ofBoundary } : null;
}

/** The plane system of the other file, for a file that names none and is not in degrees. */
function takenOver(own: FrameSaid, other: FrameSaid): string | undefined {
  return own.crs === null && !own.degrees && other.crs !== null && !other.degrees ? other.crs : undefined;
}

/** Undefined after a problem; null for local. */
function settle(
  where: string,
  asked: string | undefined,
  said: FrameSaid,
  notes: IntakeNotes,
): Crs | null | undefined {
  // a file in degrees is in degrees, whatever system was named for its neighbour
  const code = said.degrees && said.crs ? said.crs : (asked ?? said.crs ?? "local");
  const crs = code === "local" ? null : crsOf(code);
  if (code !== "local" && !crs) {
    notes.problems.push({
      code: "crs-not-known",
      where,
      message: `${code} is not among the systems offered: U.S. state plane zones (NAD83 in feet, US survey feet or metres), UTM, EPSG:4326, local.`,
      remedy: "Send the survey in one of these, or as local coordinates.",
    });
    return undefined;
  }
  if (!said.degrees || crs?.unit === "degree") return crs;
  if (crs) return WGS84;
  notes.problems.push({
    code: "degrees-need-crs",
    where,
    message: `The ${where} is in degrees of latitude and longitude.`,
    remedy: 'State survey.crs as "EPSG:4326" (GPS degrees), or send plane coordinates.',
  });
  return undefined;
}

function liesIn(where: string, crs: Crs | null, at: Point | null, notes: IntakeNotes): boolean {
  // northing and easting may still be exchanged here
  if (!crs || !at || isPlausible(crs, at) || isPlausible(crs, [at[1], at[0]])) return true;
  notes.problems.push({
    code: "coordinates-not-in-crs",
    where,
    message: `${at[0].toFixed(1)}, ${at[1].toFixed(1)} is no place in ${crs.name} (${crs.code}).`,
    remedy: "Check survey.crs; leave it out for coordinates on an assumed origin.",
  });
  return false;
}

/** The plane both files are brought to; null when both are local and stay as they are. */
export function planeOfStudy({ topo, boundary }: SystemsOfFiles, ring: readonly Point[]): Crs | null {
  if (!topo || !boundary) return null;
  if (topo.unit !== "degree") return topo;
  if (boundary.unit !== "degree") return boundary;
  const middle = (values: readonly number[]) => (Math.min(...values) + Math.max(...values)) / 2;
  return planeThrough([middle(ring.map(([x]) => x)), middle(ring.map(([, y]) => y))]);
}

/** The lot line in the topo's own coordinates. */
export function inTopoSystem(ring: readonly Point[], { topo, boundary }: SystemsOfFiles): Point[] {
  return topo && boundary ? ring.map(between(boundary, topo)) : [...ring];
}
