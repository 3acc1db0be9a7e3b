/** The triangulated points before anything is judged. */

/** Triangles with their neighbours; facets run counter-clockwise. */
export interface Mesh {
  readonly eastFt: Float64Array;
  readonly northFt: Float64Array;
  readonly elevFt: Float64Array;
  /** 1 for points on a break line. */
  readonly onBreakline: Uint8Array;
  readonly triangles: Uint32Array;
  /** halfedges[e] is the same side seen from the facet across it, −1 on the rim. Side e runs from triangles[e] to the facet's next vertex. */
  readonly halfedges: Int32Array;
  /** Sides of break lines that could not be forced into the triangles. */
  readonly sidesLost: number;
  /** The same for sides of facets the surveyor drew. */
  readonly faceSidesLost: number;
}
