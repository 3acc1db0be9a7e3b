/** LAS and LAZ files written byte by byte, after the ASPRS LAS 1.2 specification. */

export interface LidarPoint {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly classOf: number;
}

const HEADER_BYTES = 227;
const POINT_BYTES = 20;
const SCALE = 0.001;

interface LidarFile {
  readonly points: readonly LidarPoint[];
  readonly offset: readonly [number, number, number];
  /** EPSG code for a GeoTIFF key record. */
  readonly epsg?: number;
}

/** Point format 0, uncompressed. */
export function lasFile({ points, offset, epsg }: LidarFile): Uint8Array {
  const records = epsg ? [geoKeys(epsg)] : [];
  return assemble(
    points,
    offset,
    records,
    0,
    points.map((point) => record(point, offset)),
  );
}

/**
 * Compressed in chunks of one point: the first point of a chunk is stored whole, and four bytes start its arithmetic
 * decoder, so that a compressed file can be written without an encoder.
 */
export function lazFile({ points, offset, epsg }: LidarFile): Uint8Array {
  const records = [...(epsg ? [geoKeys(epsg)] : []), lazRecord()];
  const chunks = points.flatMap((point) => [record(point, offset), new Uint8Array(4)]);
  const dataStart = HEADER_BYTES + records.reduce((sum, r) => sum + r.length, 0);
  const tableAt = dataStart + 8 + chunks.reduce((sum, c) => sum + c.length, 0);
  const pointer = bytesOf(8, (view) => view.setBigInt64(0, BigInt(tableAt), true));
  const table = bytesOf(16 + 8 * points.length, (view) => view.setUint32(4, points.length, true));
  return assemble(points, offset, records, 0x80, [pointer, ...chunks, table]);
}

function assemble(
  points: readonly LidarPoint[],
  offset: readonly [number, number, number],
  records: readonly Uint8Array[],
  formatBits: number,
  body: readonly Uint8Array[],
): Uint8Array {
  const recordBytes = records.reduce((sum, r) => sum + r.length, 0);
  const header = bytesOf(HEADER_BYTES, (view, bytes) => {
    bytes.set(new TextEncoder().encode("LASF"));
    view.setUint8(24, 1);
    view.setUint8(25, 2);
    view.setUint16(94, HEADER_BYTES, true);
    view.setUint32(96, HEADER_BYTES + recordBytes, true);
    view.setUint32(100, records.length, true);
    view.setUint8(104, formatBits);
    view.setUint16(105, POINT_BYTES, true);
    view.setUint32(107, points.length, true);
    for (let k = 0; k < 3; k++) {
      view.setFloat64(131 + 8 * k, SCALE, true);
      view.setFloat64(155 + 8 * k, offset[k]!, true);
    }
    const ranges = (["x", "y", "z"] as const).map((axis) => points.map((p) => p[axis]));
    ranges.forEach((values, k) => {
      view.setFloat64(179 + 16 * k, Math.max(...values), true);
      view.setFloat64(187 + 16 * k, Math.min(...values), true);
    });
  });
  return joined([header, ...records, ...body]);
}

function record(
  { x, y, z, classOf }: LidarPoint,
  [ox, oy, oz]: readonly [number, number, number],
): Uint8Array {
  return bytesOf(POINT_BYTES, (view) => {
    view.setInt32(0, Math.round((x - ox) / SCALE), true);
    view.setInt32(4, Math.round((y - oy) / SCALE), true);
    view.setInt32(8, Math.round((z - oz) / SCALE), true);
    view.setUint8(14, 0b001001);
    view.setUint8(15, classOf);
  });
}

function variableRecord(user: string, id: number, content: Uint8Array): Uint8Array {
  const head = bytesOf(54, (view, bytes) => {
    bytes.set(new TextEncoder().encode(user), 2);
    view.setUint16(18, id, true);
    view.setUint16(20, content.length, true);
  });
  return joined([head, content]);
}

function geoKeys(epsg: number): Uint8Array {
  const keys = [1, 1, 0, 2, 1024, 0, 1, 1, 3072, 0, 1, epsg];
  const content = bytesOf(2 * keys.length, (view) =>
    keys.forEach((key, i) => {
      view.setUint16(2 * i, key, true);
    }),
  );
  return variableRecord("LASF_Projection", 34_735, content);
}

function lazRecord(): Uint8Array {
  const content = bytesOf(40, (view) => {
    view.setUint16(0, 2, true); // pointwise, chunked
    view.setUint8(4, 2); // version 2.2
    view.setUint8(5, 2);
    view.setUint32(12, 1, true); // points in a chunk
    view.setBigInt64(16, -1n, true);
    view.setBigInt64(24, -1n, true);
    view.setUint16(32, 1, true); // one item: the 20 bytes of format 0
    view.setUint16(34, 6, true);
    view.setUint16(36, POINT_BYTES, true);
    view.setUint16(38, 2, true);
  });
  return variableRecord("laszip encoded", 22_204, content);
}

function bytesOf(length: number, fill: (view: DataView, bytes: Uint8Array) => void): Uint8Array {
  const bytes = new Uint8Array(length);
  fill(new DataView(bytes.buffer), bytes);
  return bytes;
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}
