/** Garages to drive to, on ground nobody has graded. */
import type { DriveTarget } from "../../analysis/access/index.js";
import type { Point, Ring } from "../../analysis/geometry/plane.js";

export interface TargetOptions {
  readonly at: Point;
  readonly floorFt: number;
  /** Which way the door looks. */
  readonly faces?: "south" | "east" | "west";
  readonly houseFloorFt?: number;
}

/** A house 40 × 30 ft whose door stands in the middle of one long side. */
export function houseAt({
  at: [x, y],
  floorFt,
  faces = "south",
  houseFloorFt = floorFt,
}: TargetOptions): DriveTarget {
  const turn = { south: 0, east: Math.PI / 2, west: -Math.PI / 2 }[faces];
  const local: Ring = [
    [-20, 0],
    [20, 0],
    [20, 30],
    [-20, 30],
  ];
  const footprint = local.map(
    ([u, v]): Point => [
      x + u * Math.cos(turn) - v * Math.sin(turn),
      y + u * Math.sin(turn) + v * Math.cos(turn),
    ],
  );
  return {
    kind: "level-pad",
    garageAt: [x, y],
    garageFloorFt: floorFt,
    garage: "attached",
    footprint,
    levels: [{ role: "house", ring: footprint, floorElevationFt: houseFloorFt }],
    graded: {
      depth: {
        grid: { originEastFt: 0, originNorthFt: 0, cellFt: 1, cols: 0, rows: 0 },
        values: new Float32Array(0),
      },
    },
  };
}
