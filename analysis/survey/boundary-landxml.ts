/** A lot line sent as a LandXML parcel of lines and curves. */
import type { Point } from "../geometry/plane.js";
import { feetPerUnit } from "../units.js";
import { ARC_GAP_FT, pointsOnArc } from "./arc.js";
import type { LandXml, XmlEdge } from "./landxml.js";
import { type IntakeNotes, shown } from "./notes.js";
import type { BoundarySource } from "./sources.js";

/** Ends farther apart than this do not meet. */
const GAP_FT = 0.1;

/** Null with a problem when the document does not hold exactly one parcel whose edges follow one another. */
export function readBoundaryLandXml(document: LandXml, notes: IntakeNotes): BoundarySource | null {
  const refuse = (code: string, message: string, remedy: string) => {
    notes.problems.push({ code, where: "boundary", message, remedy });
    return null;
  };
  const parcels = document.parcels.filter(({ edges }) => edges.length > 0);
  const [parcel] = parcels;
  if (!parcel || parcels.length > 1)
    return refuse(
      "boundary-parcels",
      parcel
        ? `The LandXML holds ${parcels.length} parcels: ${parcels
            .slice(0, 8)
            .map(({ name }) => `"${shown(name)}"`)
            .join(", ")}.`
        : "The LandXML holds no parcel with lines or curves.",
      "Send a file with the one parcel of this lot.",
    );
  const feet = feetPerUnit(document.unit ?? "ft");
  const ring: Point[] = [];
  const edge: number[] = [];
  for (const [i, piece] of parcel.edges.entries()) {
    const next = parcel.edges[(i + 1) % parcel.edges.length]!;
    const gap = Math.hypot(next.start[0]! - piece.end[0]!, next.start[1]! - piece.end[1]!) * feet;
    if (gap > GAP_FT)
      return refuse(
        "parcel-open",
        `Edge ${i + 1} of parcel "${shown(parcel.name)}" ends ${gap.toFixed(2)} ft from where the next begins.`,
        "Export the parcel again, its edges in order.",
      );
    if (piece.kind === "curve" && !piece.centre)
      return refuse(
        "parcel-curve",
        `Edge ${i + 1} of parcel "${shown(parcel.name)}" is a curve without a center that can be read.`,
        "Export the parcel again, with Start, Center and End of each curve.",
      );
    const points = pointsOfEdge(piece, ARC_GAP_FT / feet);
    ring.push(...points);
    edge.push(...points.map(() => i));
  }
  return {
    said: {
      axes: "named",
      unit: document.unit,
      verticalUnit: null,
      degrees: false,
      crs: document.epsg ? `EPSG:${document.epsg}` : null,
    },
    format: `LandXML parcel "${shown(parcel.name)}"`,
    columns: null,
    ring,
    edge,
    row: null,
    traverse: null,
  };
}

function pointsOfEdge({ kind, start, end, centre, turn }: XmlEdge, gap: number): Point[] {
  const from = xy(start);
  const to = xy(end);
  if (kind === "line") return [from];
  const [cx, cy] = xy(centre!);
  const first = Math.atan2(from[1] - cy, from[0] - cx);
  const last = Math.atan2(to[1] - cy, to[0] - cx);
  const swept = turn === "left" ? last - first : first - last;
  const radius = Math.hypot(from[0] - cx, from[1] - cy);
  const full = 2 * Math.PI;
  // an arc that ends where it begins is the whole circle
  const delta =
    Math.hypot(to[0] - from[0], to[1] - from[1]) < 1e-9 * radius ? full : ((swept % full) + full) % full;
  if (delta < full) return [from, ...pointsOnArc(from, to, { deltaDeg: (delta * 180) / Math.PI, turn }, gap)];
  const opposite: Point = [2 * cx - from[0], 2 * cy - from[1]];
  const half = { deltaDeg: 180, turn };
  return [from, ...pointsOnArc(from, opposite, half, gap), opposite, ...pointsOnArc(opposite, to, half, gap)];
}

function xy([northing, easting]: readonly number[]): Point {
  return [easting!, northing!];
}
