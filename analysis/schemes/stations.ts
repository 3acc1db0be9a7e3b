/** Points along the sides of a layout, and rays at its corners, as columns. */
import type { Corner, Side } from "./layout.js";
import type { Place } from "./place.js";

/** What stands at a station: a side that may be sloped, a wall of the house, a ray of a corner's fan; or ground nobody surveyed, passed over. */
export const OPEN_SIDE = 0;
export const HOUSE_WALL = 1;
export const CORNER_RAY = 2;
export const UNKNOWN = 3;

/** Most parts a side is read in, and most stations of all sides and corners together. */
const MOST_PARTS = 64;
const MOST_STATIONS = 4096;
const MOST_RAYS = 16;

const floats = () => new Float64Array(MOST_STATIONS);

export class Stations {
  count = 0;
  readonly east = floats();
  readonly north = floats();
  readonly outEast = floats();
  readonly outNorth = floats();
  /** Ground less the layout's offset there, and that offset. */
  readonly groundFt = floats();
  readonly offsetFt = floats();
  /** Rise per foot outward. */
  readonly slope = floats();
  /** Length of edge it stands for; for a corner ray the angle it stands for. */
  readonly share = floats();
  readonly kind = new Uint8Array(MOST_STATIONS);
  /** Number of the side it lies on; for a corner ray the stations on either hand. */
  readonly side = new Uint16Array(MOST_STATIONS);
  readonly before = new Int32Array(MOST_STATIONS);
  readonly after = new Int32Array(MOST_STATIONS);
  /** As last measured: ground over the graded level (below it where negative), how far its slope reaches, and 1 where a wall must stand. */
  readonly overFt = floats();
  readonly reachFt = floats();
  readonly walled = new Uint8Array(MOST_STATIONS);

  #place: Place = { eastFt: 0, northFt: 0, turnRad: 0 };
  #cos = 1;
  #sin = 0;
  /** Directions of the rays at a corner, between the outlook of one side and that of the next. */
  readonly #fanFrom = new Float64Array(MOST_RAYS);
  readonly #fanTo = new Float64Array(MOST_RAYS);
  #rays = 0;

  /** Makes ready for the sides and corners of a layout at a place. */
  begin(place: Place, rays: number): void {
    this.count = 0;
    this.#place = place;
    this.#cos = Math.cos(place.turnRad);
    this.#sin = Math.sin(place.turnRad);
    if (rays === this.#rays) return;
    this.#rays = rays;
    for (let ray = 0; ray < rays; ray++) {
      const angle = ((ray + 0.5) / rays) * (Math.PI / 2);
      this.#fanFrom[ray] = Math.cos(angle);
      this.#fanTo[ray] = Math.sin(angle);
    }
  }

  /** Adds the even parts of a side, about `stepFt` long; how many there are. */
  alongSide({ from, to, outward, offsetFt, hold }: Side, index: number, stepFt: number): number {
    const cos = this.#cos;
    const sin = this.#sin;
    const { eastFt, northFt } = this.#place;
    const du = to[0] - from[0];
    const dv = to[1] - from[1];
    const lengthFt = Math.sqrt(du * du + dv * dv);
    const n = Math.min(MOST_PARTS, Math.max(1, Math.round(lengthFt / stepFt)));
    const outEast = outward[0] * cos - outward[1] * sin;
    const outNorth = outward[0] * sin + outward[1] * cos;
    const kind = hold === "open" ? OPEN_SIDE : HOUSE_WALL;
    const u0 = from[0] + (0.5 / n) * du;
    const v0 = from[1] + (0.5 / n) * dv;
    const first = this.count;
    for (let part = 0; part < n; part++) {
      const k = first + part;
      const u = u0 + (part / n) * du;
      const v = v0 + (part / n) * dv;
      this.east[k] = eastFt + u * cos - v * sin;
      this.north[k] = northFt + u * sin + v * cos;
      this.outEast[k] = outEast;
      this.outNorth[k] = outNorth;
      this.offsetFt[k] = offsetFt;
      this.share[k] = lengthFt / n;
      this.kind[k] = kind;
      this.side[k] = index;
    }
    this.count = first + n;
    return n;
  }

  /** Adds the fan of rays at a corner; `parts` are those of all sides, whose stations lie side by side before the first fan. */
  atCorner({ at, from, to, offsetFt, between }: Corner, parts: readonly number[]): void {
    const cos = this.#cos;
    const sin = this.#sin;
    const rays = this.#rays;
    const east = this.#place.eastFt + at[0] * cos - at[1] * sin;
    const north = this.#place.northFt + at[0] * sin + at[1] * cos;
    let before = -1;
    let after = 0;
    for (let i = 0; i <= between[0]; i++) before += parts[i]!;
    for (let i = 0; i < between[1]; i++) after += parts[i]!;
    for (let ray = 0; ray < rays; ray++) {
      const k = this.count++;
      const outU = from[0] * this.#fanFrom[ray]! + to[0] * this.#fanTo[ray]!;
      const outV = from[1] * this.#fanFrom[ray]! + to[1] * this.#fanTo[ray]!;
      this.east[k] = east;
      this.north[k] = north;
      this.outEast[k] = outU * cos - outV * sin;
      this.outNorth[k] = outU * sin + outV * cos;
      this.offsetFt[k] = offsetFt;
      this.share[k] = Math.PI / 2 / rays;
      this.kind[k] = CORNER_RAY;
      this.side[k] = parts.length;
      this.before[k] = before;
      this.after[k] = after;
    }
  }
}
