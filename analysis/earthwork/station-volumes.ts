/** Volumes between cross-sections along a line: the road builder's two formulas. Method: docs/methods/earthwork.md */

/** Area of one cross-section at its station. */
export interface StationArea {
  readonly stationFt: number;
  /** Of cut or of fill alone, ≥ 0: never the difference of the two. */
  readonly areaFt2: number;
}

/**
 * V = L (A₁ + A₂) / 2. Exact for prisms; too large wherever both dimensions of the section shrink together (half as much
 * again for a pyramid).
 *
 * @throws {RangeError} for a negative or non-finite area or length.
 * @see NAVEDTRA 14071, Earthwork Computations, average end area
 */
export function averageEndAreaFt3(area1Ft2: number, area2Ft2: number, lengthFt: number): number {
  demand({ area1Ft2, area2Ft2, lengthFt });
  return (lengthFt * (area1Ft2 + area2Ft2)) / 2;
}

/**
 * V = L (A₁ + 4 Aₘ + A₂) / 6, exact for every solid whose section is a polynomial of degree ≤ 3 along its length.
 * Aₘ is the section measured half-way, not the mean of the ends.
 *
 * @throws {RangeError} for a negative or non-finite area or length.
 * @see G. L. Vose, Handbook of Railroad Construction (1857), art. 108
 */
export function prismoidalFt3(
  area1Ft2: number,
  areaMidFt2: number,
  area2Ft2: number,
  lengthFt: number,
): number {
  demand({ area1Ft2, areaMidFt2, area2Ft2, lengthFt });
  return (lengthFt * (area1Ft2 + 4 * areaMidFt2 + area2Ft2)) / 6;
}

/** Average end areas added up along stations in rising order. */
export function sumStationsFt3(stations: readonly StationArea[]): number {
  let sum = 0;
  for (let i = 1; i < stations.length; i++) {
    const from = stations[i - 1]!;
    const to = stations[i]!;
    sum += averageEndAreaFt3(from.areaFt2, to.areaFt2, to.stationFt - from.stationFt);
  }
  return sum;
}

function demand(values: Readonly<Record<string, number>>): void {
  for (const [name, value] of Object.entries(values))
    if (!(value >= 0 && value < Infinity))
      throw new RangeError(`${name} must be a finite number ≥ 0, got ${value}`);
}
