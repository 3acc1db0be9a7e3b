/** An elevation grid sent as GeoTIFF: the middle of every cell with a height is a point. */
import { fromArrayBuffer, type GeoTIFFImage } from "geotiff";
import type { LengthUnit } from "../units.js";
import type { IntakeNotes } from "./notes.js";
import { PointTableBuilder } from "./point-table.js";
import type { TopoSource } from "./sources.js";

/** More cells than this are not one lot and its surroundings. */
const MOST_CELLS = 2_000_000;
/** GeoTIFF keys of units (EPSG units of measure). */
const UNIT_OF_CODE: Readonly<Record<number, LengthUnit>> = { 9001: "m", 9002: "ft", 9003: "us-ft" };
const USER_DEFINED = 32_767;

/** Null with a problem when the file is no raster of heights with a place on the ground. */
export async function readTopoGeotiff(bytes: Uint8Array, notes: IntakeNotes): Promise<TopoSource | null> {
  try {
    return await read(bytes, notes);
  } catch (error) {
    return refuse(
      "tiff-unreadable",
      `The GeoTIFF could not be read: ${(error as Error).message.slice(0, 120)}.`,
      "Export the grid again, uncompressed or with deflate or LZW.",
      notes,
    );
  }
}

async function read(bytes: Uint8Array, notes: IntakeNotes): Promise<TopoSource | null> {
  const tiff = await fromArrayBuffer(bytes.slice().buffer as ArrayBuffer);
  const image = await tiff.getImage();
  const [width, height] = [image.getWidth(), image.getHeight()];
  if (width * height > MOST_CELLS)
    return refuse(
      "tiff-too-large",
      `The grid has ${width} × ${height} cells; at most ${MOST_CELLS} are read.`,
      "Cut it to the lot and 200 ft around.",
      notes,
    );
  const keys = (image.getGeoKeys() ?? {}) as Record<string, number | undefined>;
  const place = placing(image);
  if (!place)
    return refuse(
      "tiff-not-placed",
      "The grid does not say where it lies: it has neither a tie point with a cell size nor a transformation.",
      "Export it again as a GeoTIFF, with its place.",
      notes,
    );
  const [heights] = (await image.readRasters({ samples: [0] })) as unknown as [ArrayLike<number>];
  const noData = image.getGDALNoData();
  const [xByCol, xByRow, x0, yByCol, yByRow, y0] = place;
  // the origin is a cell's corner unless the grid says its values stand at points
  const middle = keys.GTRasterTypeGeoKey === 2 ? 0 : 0.5;
  const builder = new PointTableBuilder(width * height);
  for (let row = 0; row < height; row++)
    for (let col = 0; col < width; col++) {
      const z = heights[row * width + col]!;
      if (!Number.isFinite(z) || z === noData) continue;
      const [c, r] = [col + middle, row + middle];
      builder.push(xByCol * c + xByRow * r + x0, yByCol * c + yByRow * r + y0, z, row + 1);
    }
  const points = builder.finish();
  if (points.count === 0)
    return refuse(
      "tiff-empty",
      "No cell of the grid holds a height.",
      "Check the no-data value of the grid.",
      notes,
    );
  const degrees = keys.GTModelTypeGeoKey === 2;
  const epsg = degrees ? 4326 : keys.ProjectedCSTypeGeoKey;
  notes.warnings.push({
    code: "topo-from-grid",
    message: `The topo is a grid of ${width} × ${height} heights, not a survey of shots: it knows no edges, walls or trees, and heights under trees may be canopy.`,
    remedy: "Ask for the field survey before money depends on it.",
  });
  return {
    heightsFrom: { kind: "grid" },
    said: {
      axes: "named",
      unit: UNIT_OF_CODE[keys.ProjLinearUnitsGeoKey ?? 0] ?? null,
      verticalUnit: UNIT_OF_CODE[keys.VerticalUnitsGeoKey ?? 0] ?? null,
      degrees,
      crs: epsg && epsg !== USER_DEFINED ? `EPSG:${epsg}` : null,
    },
    format: "GeoTIFF elevation grid",
    columns: null,
    columnsBecause: "a grid placed by its GeoTIFF tags",
    points,
    pointsRead: width * height,
    breaklines: [],
  };
}

/**
 * The six numbers of x = a·column + b·row + c and y = d·column + e·row + f, by the grid's tags: a tie point and a cell
 * size (rows run south), or a transformation (GeoTIFF 1.1, 7.2: any direction, turned grids too). The package's own
 * origin and cell size take every tie point for that of the first cell, and no grid for turned or running north.
 */
function placing(image: GeoTIFFImage): readonly [number, number, number, number, number, number] | null {
  const numbers = (tag: "ModelPixelScale" | "ModelTiepoint" | "ModelTransformation") =>
    Array.from((image.fileDirectory.getValue(tag) as ArrayLike<number> | undefined) ?? []);
  const [wide, high] = numbers("ModelPixelScale");
  const [col, row, , x, y] = numbers("ModelTiepoint");
  if (wide && high && x !== undefined && y !== undefined)
    return [wide, 0, x - col! * wide, 0, -high, y + row! * high];
  const [a, b, , c, d, e, , f] = numbers("ModelTransformation");
  return a === undefined || f === undefined ? null : [a, b!, c!, d!, e!, f];
}

function refuse(code: string, message: string, remedy: string, notes: IntakeNotes): null {
  notes.problems.push({ code, where: "topo", message, remedy });
  return null;
}
