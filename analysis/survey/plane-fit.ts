/** Planes through a handful of shots, given relative to one place. */

/** z = atPlace + eastSlope·dx + northSlope·dy. */
export interface LocalPlane {
  readonly atPlace: number;
  readonly eastSlope: number;
  readonly northSlope: number;
}

/** Offsets from the place, and heights. The first `count` entries hold. */
export interface Neighbours {
  count: number;
  readonly dx: Float64Array;
  readonly dy: Float64Array;
  readonly z: Float64Array;
}

/** A triangle thinner than this (twice its area over its longest side squared) gives no plane. */
const THINNEST = 0.05;

export function heightAbove(plane: LocalPlane, dx: number, dy: number, z: number): number {
  return z - plane.atPlace - plane.eastSlope * dx - plane.northSlope * dy;
}

/** Least-squares plane; null when the shots lie on a line. */
export function leastSquaresPlane({ count, dx, dy, z }: Neighbours): LocalPlane | null {
  let [mx, my, mz] = [0, 0, 0];
  for (let k = 0; k < count; k++) {
    mx += dx[k]! / count;
    my += dy[k]! / count;
    mz += z[k]! / count;
  }
  let [xx, xy, yy, xz, yz] = [0, 0, 0, 0, 0];
  for (let k = 0; k < count; k++) {
    const x = dx[k]! - mx;
    const y = dy[k]! - my;
    const h = z[k]! - mz;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * h;
    yz += y * h;
  }
  const det = xx * yy - xy * xy;
  if (!(det > 1e-3 * (xx + yy) ** 2)) return null;
  const eastSlope = (xz * yy - yz * xy) / det;
  const northSlope = (yz * xx - xz * xy) / det;
  return { atPlace: mz - eastSlope * mx - northSlope * my, eastSlope, northSlope };
}

/**
 * The plane through three of the shots from which the median distance of all is least (least median of squares,
 * Rousseeuw 1984): up to half of the shots may be wrong. `medianOff` is that distance. Null when no three make a plane.
 */
export function steadiestPlane(near: Neighbours): { plane: LocalPlane; medianOff: number } | null {
  const { count, dx, dy, z } = near;
  const off = new Float64Array(count);
  let best: { plane: LocalPlane; medianOff: number } | null = null;
  for (let a = 0; a < count; a++)
    for (let b = a + 1; b < count; b++)
      for (let c = b + 1; c < count; c++) {
        const [ux, uy] = [dx[b]! - dx[a]!, dy[b]! - dy[a]!];
        const [vx, vy] = [dx[c]! - dx[a]!, dy[c]! - dy[a]!];
        const cross = ux * vy - uy * vx;
        const longest2 = Math.max(ux * ux + uy * uy, vx * vx + vy * vy, (ux - vx) ** 2 + (uy - vy) ** 2);
        if (Math.abs(cross) < THINNEST * longest2) continue;
        const [uz, vz] = [z[b]! - z[a]!, z[c]! - z[a]!];
        const eastSlope = (uz * vy - vz * uy) / cross;
        const northSlope = (vz * ux - uz * vx) / cross;
        const plane = { atPlace: z[a]! - eastSlope * dx[a]! - northSlope * dy[a]!, eastSlope, northSlope };
        for (let k = 0; k < count; k++) off[k] = Math.abs(heightAbove(plane, dx[k]!, dy[k]!, z[k]!));
        off.sort();
        const medianOff = off[count >> 1]!;
        if (!best || medianOff < best.medianOff) best = { plane, medianOff };
      }
  return best;
}
