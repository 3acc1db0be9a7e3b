/** Which places lie near one another: so near, and so little turned, that a closer look at both would end in the same place. */
import type { Place } from "./place.js";

/** More squares than any lot is wide. */
const SQUARES_ACROSS = 2 ** 24;

export function areNear(a: Place, b: Place, apartFt: number, apartSine: number): boolean {
  const east = a.eastFt - b.eastFt;
  const north = a.northFt - b.northFt;
  return (
    east * east + north * north < apartFt * apartFt && Math.abs(Math.sin(a.turnRad - b.turnRad)) < apartSine
  );
}

/** Places in squares as wide as two of them must be apart. */
export class NearPlaces {
  readonly #apartFt: number;
  readonly #apartSine: number;
  readonly #squares = new Map<number, Place[]>();

  constructor(apartFt: number, apartSine: number) {
    this.#apartFt = apartFt;
    this.#apartSine = apartSine;
  }

  #square({ eastFt, northFt }: Place, plusEast: number, plusNorth: number): number {
    const col = Math.floor(eastFt / this.#apartFt) + plusEast;
    return col * SQUARES_ACROSS + Math.floor(northFt / this.#apartFt) + plusNorth;
  }

  add(place: Place): void {
    const square = this.#square(place, 0, 0);
    const others = this.#squares.get(square);
    if (others) others.push(place);
    else this.#squares.set(square, [place]);
  }

  hasNear(place: Place): boolean {
    for (let col = -1; col <= 1; col++)
      for (let row = -1; row <= 1; row++)
        for (const other of this.#squares.get(this.#square(place, col, row)) ?? [])
          if (areNear(other, place, this.#apartFt, this.#apartSine)) return true;
    return false;
  }
}
