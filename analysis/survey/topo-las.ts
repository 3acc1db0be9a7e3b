/** Lidar points sent as LAS or LAZ: those classed as ground. */
import { Las } from "copc";
import type { IntakeNotes } from "./notes.js";
import { PointTableBuilder } from "./point-table.js";
import type { TopoSource } from "./sources.js";

/** Classes of ground (ASPRS LAS 1.4): 2 ground, 8 model key point. */
const GROUND_CLASSES = new Set([2, 8]);
/** More points than this are a map sheet, not a lot. */
const MOST_POINTS = 6_000_000;
const COMPRESSED_BIT = 0x80;
const FORMAT_BYTE = 104;

/** Null with a problem when the file cannot be read or holds no points classed as ground. */
export async function readTopoLas(bytes: Uint8Array, notes: IntakeNotes): Promise<TopoSource | null> {
  try {
    return await read(bytes, notes);
  } catch (error) {
    return refuse(
      "las-unreadable",
      `The LAS file could not be read: ${String((error as Error)?.message ?? error).slice(0, 120)}.`,
      "Export it again as LAS 1.2 or 1.4.",
      notes,
    );
  }
}

async function read(bytes: Uint8Array, notes: IntakeNotes): Promise<TopoSource | null> {
  const header = Las.Header.parse(bytes);
  const { pointCount, pointDataOffset, pointDataRecordLength, scale, offset } = header;
  if (pointCount > MOST_POINTS)
    return refuse(
      "las-too-large",
      `The file holds ${pointCount} points; at most ${MOST_POINTS} are read.`,
      "Cut it to the lot and 200 ft around, and to ground points.",
      notes,
    );
  const compressed = (bytes[FORMAT_BYTE]! & COMPRESSED_BIT) !== 0;
  const records = compressed
    ? await Las.PointData.decompressFile(bytes, await freshDecoder())
    : bytes.subarray(pointDataOffset, pointDataOffset + pointCount * pointDataRecordLength);
  const whole = Math.floor(records.length / pointDataRecordLength);
  const view = Las.View.create(records.subarray(0, whole * pointDataRecordLength), {
    pointDataRecordFormat: header.pointDataRecordFormat,
    pointDataRecordLength,
    scale,
    offset,
  } as typeof header);
  const [x, y, z, classOf, isWithheld] = (["X", "Y", "Z", "Classification", "Withheld"] as const).map(
    (name) => view.getter(name),
  );
  const builder = new PointTableBuilder(Math.min(whole, 1_000_000));
  for (let i = 0; i < whole; i++)
    // a withheld point counts as deleted (ASPRS LAS 1.4)
    if (GROUND_CLASSES.has(classOf!(i)) && !isWithheld!(i)) builder.push(x!(i), y!(i), z!(i), i + 1);
  const points = builder.finish();
  if (points.count === 0)
    return refuse(
      "las-no-ground",
      `None of the ${whole} points is classed as ground (class 2).`,
      "Ask for classified points, or send shots on the ground.",
      notes,
    );
  if (whole < pointCount)
    notes.warnings.push({
      code: "las-cut-short",
      message: `The file promises ${pointCount} points and holds ${whole}.`,
      remedy: "Send the file again.",
    });
  notes.warnings.push({
    code: "topo-from-lidar",
    message: `${points.count} points classed as ground were read of ${whole}. Under trees and brush they may lie feet off the ground.`,
    remedy:
      'Give survey.source "canopy" where the lot is wooded; ask for a field survey before money depends on it.',
  });
  return {
    heightsFrom: { kind: "lidar" },
    said: {
      axes: "named",
      unit: null,
      verticalUnit: null,
      degrees: false,
      crs: await systemOf(bytes, header),
    },
    format: compressed ? "LAZ points" : "LAS points",
    columns: null,
    columnsBecause: "LAS points are x, y, z",
    points,
    pointsRead: whole,
    breaklines: [],
  };
}

const HANDLED = ["uncaughtException", "unhandledRejection"] as const;

/**
 * A decoder for one file: damaged files may leave one broken. Its loader hangs handlers on the process that would keep
 * every decoder with its memory alive for good; they are taken off again.
 */
async function freshDecoder() {
  const before = HANDLED.map((event) => new Set<unknown>(process.listeners(event as "uncaughtException")));
  const decoder = await Las.PointData.createLazPerf();
  HANDLED.forEach((event, k) => {
    for (const listener of process.listeners(event as "uncaughtException"))
      if (!before[k]!.has(listener)) process.removeListener(event, listener);
  });
  return decoder;
}

const GEO_KEYS = 34_735;
const WKT = 2_112;
const PROJECTED_SYSTEM_KEY = 3_072;
const USER_DEFINED = 32_767;

/** The projected system a LAS header names, by GeoTIFF keys or by WKT. */
async function systemOf(
  bytes: Uint8Array,
  header: ReturnType<typeof Las.Header.parse>,
): Promise<string | null> {
  const vlrs = await Las.Vlr.walk(async (begin, end) => bytes.subarray(begin, end), header);
  const contentOf = (id: number) => {
    const vlr = Las.Vlr.find(vlrs, "LASF_Projection", id);
    return vlr ? bytes.subarray(vlr.contentOffset, vlr.contentOffset + vlr.contentLength) : null;
  };
  const keys = contentOf(GEO_KEYS);
  if (keys) {
    const view = new DataView(keys.buffer, keys.byteOffset, keys.byteLength);
    for (let i = 8; i + 8 <= keys.byteLength; i += 8) {
      const value = view.getUint16(i + 6, true);
      if (view.getUint16(i, true) === PROJECTED_SYSTEM_KEY && value !== USER_DEFINED) return `EPSG:${value}`;
    }
  }
  const wkt = contentOf(WKT);
  if (!wkt) return null;
  // the horizontal system stands before the vertical one, its own code last
  const [horizontal = ""] = new TextDecoder().decode(wkt).split(/VERT_?C/);
  const codes = [...horizontal.matchAll(/(?:AUTHORITY|ID)\["EPSG",\s*"?(\d{4,5})"?\]/g)];
  return codes.length > 0 ? `EPSG:${codes.at(-1)![1]}` : null;
}

function refuse(code: string, message: string, remedy: string, notes: IntakeNotes): null {
  notes.problems.push({ code, where: "topo", message, remedy });
  return null;
}
