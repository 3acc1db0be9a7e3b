/** Points along the sides of a layout, and rays at its corners, as columns. */

export interface Stations {
  count: number;
  readonly east: Float64Array;
  readonly north: Float64Array;
  readonly outEast: Float64Array;
  readonly outNorth: Float64Array;
  /** Ground less the layout's offset there, and that offset. */
  readonly groundFt: Float64Array;
  readonly offsetFt: Float64Array;
  /** Rise per foot outward. */
  readonly slope: Float64Array;
  /** Length of edge it stands for; for a corner ray the angle it stands for. */
  readonly share: Float64Array;
  /** 0 open side, 1 house wall, 2 corner ray. */
  readonly kind: Uint8Array;
  /** Number of the side it lies on; for a corner ray the stations on either hand. */
  readonly side: Uint16Array;
  readonly before: Int32Array;
  readonly after: Int32Array;
  /** As last measured: 1 where a wall must stand. */
  readonly walled: Uint8Array;
}

export function stations(room: number): Stations {
  const floats = () => new Float64Array(room);
  return {
    count: 0,
    east: floats(),
    north: floats(),
    outEast: floats(),
    outNorth: floats(),
    groundFt: floats(),
    offsetFt: floats(),
    slope: floats(),
    share: floats(),
    kind: new Uint8Array(room),
    side: new Uint16Array(room),
    before: new Int32Array(room),
    after: new Int32Array(room),
    walled: new Uint8Array(room),
  };
}
