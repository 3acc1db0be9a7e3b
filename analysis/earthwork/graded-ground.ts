/** A graded surface as polygons and as a raster of depths, for drawings and for stakes where banks meet the ground. */
import { differenceOf, intersectionOf, unionOf, unionOfPieces } from "../geometry/clip.js";
import { flatten } from "../geometry/convex-clip.js";
import type { Grid, Raster } from "../geometry/grid.js";
import { type MultiPolygon, type Ring, ringContains } from "../geometry/plane.js";
import { scanTriangle } from "../geometry/scan.js";
import { isConvex } from "./batter-zones.js";
import type { GradedGround } from "./earthwork.js";
import type { GradedSurface } from "./grade-surface.js";
import type { GradedPiece } from "./plane-pieces.js";

/** Cells of the depth raster at most: larger works get larger cells. */
const MOST_CELLS = 20_000;

/** Outlines where ground is cut and filled, pads and banks together, with the depths between them unless they are known. */
export function gradedGround(surface: GradedSurface, depth = gradedDepth(surface)): GradedGround {
  const onPads = piecesOnPads(surface).flat();
  return { cut: outline(surface, onPads, "cut"), fill: outline(surface, onPads, "fill"), depth };
}

/** Depths on cells of about `cellFt`: positive cut, negative fill, NaN untouched. */
export function gradedDepth(surface: GradedSurface, cellFt = 1): GradedGround["depth"] {
  return depthRaster(surface, piecesOnPads(surface), cellFt);
}

/** Outline of the ground cut (or filled), pads and banks together. */
export function gradedOutline(surface: GradedSurface, side: "cut" | "fill"): MultiPolygon {
  return outline(surface, piecesOnPads(surface).flat(), side);
}

/** Pieces of each pad, of the sides that count. */
function piecesOnPads({ footprints, pads, only }: GradedSurface): GradedPiece[][] {
  return footprints.map((footprint, i) =>
    footprint.pieces(pads[i]!.levelFt).filter(({ side }) => only === "both" || only === side),
  );
}

function outline(
  { banks, limit, meetsPads, pads }: GradedSurface,
  onPads: readonly GradedPiece[],
  side: "cut" | "fill",
): MultiPolygon {
  const padPieces = flatOf(onPads, side);
  const bankPieces = flatOf(banks, side);
  if (!limit && !meetsPads) return unionOfPieces([...bankPieces, ...padPieces]);
  let around = unionOfPieces(bankPieces);
  if (limit) around = intersectionOf(around, [[limit]]);
  if (meetsPads) around = differenceOf(around, unionOf(pads.map(({ ring }) => ring)));
  return unionOfPieces([...around.flat().map(flatten), ...padPieces]);
}

function flatOf(pieces: readonly GradedPiece[], side: "cut" | "fill"): Float64Array[] {
  return pieces.filter((piece) => piece.side === side).map(({ xy }) => xy);
}

function depthRaster(
  surface: GradedSurface,
  byPad: readonly (readonly GradedPiece[])[],
  cellFt: number,
): GradedGround["depth"] {
  const pads = surface.pads.map(({ ring }) => ring);
  const grid = gridOver([...pads.map(flatten), ...surface.banks.map(({ xy }) => xy)], cellFt);
  const values = new Float32Array(grid.cols * grid.rows).fill(Number.NaN);
  // pieces of an inward-cornered pad are bridged: their triangles spill over its edge
  const layers: [readonly GradedPiece[], Ring | null][] = [
    [surface.banks, surface.limit],
    ...byPad.map((pieces, i): [readonly GradedPiece[], Ring | null] => [
      pieces,
      isConvex(pads[i]!) ? null : pads[i]!,
    ]),
  ];
  const raster = { grid, values };
  for (const [pieces, inside] of layers) for (const piece of pieces) scanPiece(raster, piece, inside);
  return raster;
}

/** Depths of one piece, by the triangles of its fan. */
function scanPiece(depths: Raster, piece: GradedPiece, inside: Ring | null): void {
  const { xy } = piece;
  const write = (first: number, last: number, east: number, north: number) =>
    writeRun(depths, piece, inside, first, last, east, north);
  for (let i = 2; i + 3 < xy.length; i += 2)
    scanTriangle(depths.grid, xy[0]!, xy[1]!, xy[i]!, xy[i + 1]!, xy[i + 2]!, xy[i + 3]!, write);
}

/** Depths of the cells from one to another of a row, the first in the middle at (east, north). */
function writeRun(
  { grid, values }: Raster,
  { side, a, b, c }: GradedPiece,
  inside: Ring | null,
  first: number,
  last: number,
  east: number,
  north: number,
): void {
  const sign = side === "cut" ? 1 : -1;
  for (let cell = first; cell <= last; cell++) {
    const x = east + (cell - first) * grid.cellFt;
    if (inside && !ringContains(inside, [x, north])) continue;
    values[cell] = sign * Math.max(0, a * x + b * north + c);
  }
}

function gridOver(shapes: readonly Float64Array[], wantedFt: number): Grid {
  let [minEastFt, minNorthFt, maxEastFt, maxNorthFt] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const xy of shapes)
    for (let i = 0; i < xy.length; i += 2) {
      minEastFt = Math.min(minEastFt, xy[i]!);
      maxEastFt = Math.max(maxEastFt, xy[i]!);
      minNorthFt = Math.min(minNorthFt, xy[i + 1]!);
      maxNorthFt = Math.max(maxNorthFt, xy[i + 1]!);
    }
  const width = maxEastFt - minEastFt;
  const height = maxNorthFt - minNorthFt;
  const cellFt = Math.max(wantedFt, Math.sqrt((width * height) / MOST_CELLS));
  return {
    originEastFt: minEastFt - cellFt,
    originNorthFt: minNorthFt - cellFt,
    cellFt,
    cols: Math.ceil(width / cellFt) + 2,
    rows: Math.ceil(height / cellFt) + 2,
  };
}
