/** A surface as the surveyor triangulated it: the visible faces and the points they stand on. */
import type { XmlPoint, XmlSurface } from "./landxml.js";
import type { IntakeNotes } from "./notes.js";
import type { PointTable } from "./point-table.js";
import type { SurveyFaces } from "./survey.js";

export interface DrawnSurface {
  /** Corners of visible faces first. */
  readonly shots: readonly XmlPoint[];
  /** Null where nobody joined the points. */
  readonly drawn: {
    /** Places in `shots` of the corners of the visible faces, three a face. */
    readonly faces: Uint32Array;
    readonly cornerCount: number;
  } | null;
}

/** False for surfaces that are empty, or nothing but invisible faces. */
export function hasGround({ points, data, faces, invisibleFaces }: XmlSurface): boolean {
  return data.length > 0 || (points.size > 0 && (faces.length > 0 || invisibleFaces === 0));
}

/** The visible faces, with all points. A surface without faces gives its points alone; one without points, or nothing visible, its source data. */
export function readSurface(
  { points, data, faces, invisibleFaces }: XmlSurface,
  notes: IntakeNotes,
): DrawnSurface {
  if (points.size === 0 || (faces.length === 0 && invisibleFaces > 0)) return { shots: data, drawn: null };
  const whole: string[] = [];
  for (let i = 0; i < faces.length; i += 3) {
    const corners = faces.slice(i, i + 3);
    if (corners.every((id) => points.has(id))) whole.push(...corners);
  }
  const broken = (faces.length - whole.length) / 3;
  if (broken > 0)
    notes.warnings.push({
      code: "surface-faces-broken",
      message: `Faces that name points the surface does not hold: ${broken}. They were left out.`,
      remedy: "Export the surface again.",
    });
  if (whole.length === 0) return { shots: [...points.values()], drawn: null };

  const corners = [...new Set(whole)];
  const place = new Map(corners.map((id, i) => [id, i]));
  const others = [...points].filter(([id]) => !place.has(id)).map(([, point]) => point);
  noteFaces(whole.length / 3, invisibleFaces, notes);
  return {
    shots: [...corners.map((id) => points.get(id)!), ...others],
    drawn: { faces: Uint32Array.from(whole, (id) => place.get(id)!), cornerCount: corners.length },
  };
}

function noteFaces(visible: number, invisible: number, notes: IntakeNotes): void {
  notes.warnings.push({
    code: "surface-faces-used",
    message: `The surveyor's own facets were used (visible faces of the surface: ${visible}). Ground outside them is unsurveyed.`,
    remedy: "Nothing to do.",
  });
  if (invisible > 0)
    notes.warnings.push({
      code: "surface-holes",
      message: `Invisible faces of the surface: ${invisible}. The surveyor says nothing of the ground there, so it is unsurveyed and not buildable.`,
      remedy: "Ask the surveyor what lies there: water, a building, or ground that could not be reached.",
    });
}

/** The faces over a table whose coordinates are local feet and whose first points are their corners. */
export function facesInFeet(
  corners: Uint32Array,
  { easting, northing, surfaceCount }: PointTable,
): SurveyFaces {
  return { eastFt: easting.subarray(0, surfaceCount), northFt: northing.subarray(0, surfaceCount), corners };
}
