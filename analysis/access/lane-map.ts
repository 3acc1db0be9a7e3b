/** Where a place of a search lies: its state, the entry nearest to it, and the likely cost from it to the street. */
import type { Grid } from "../geometry/grid.js";
import { DEEPEST_FT, type DriveRules } from "./drive-rules.js";
import type { NextPlace } from "./lane-places.js";
import type { LotLanes } from "./lot-lanes.js";
import { nearestEntryIndex } from "./street-shots.js";

/** Heights of the lane over the ground told apart. */
const LIFT_STEP_FT = 4;
const LIFTS = 2 * Math.round(DEEPEST_FT / LIFT_STEP_FT) + 1;
/** Places nearer than this are one; larger cells are places of their own. */
const PLACE_FT = 6;

export class LaneMap {
  /** How many states can be told apart. */
  readonly states: number;
  readonly #lot: LotLanes;
  readonly #grid: Grid;
  readonly #rules: DriveRules;
  readonly #toGo: Float32Array;
  readonly #headings: number;
  readonly #placeFt: number;
  readonly #placeCols: number;
  readonly #entryOfCell: Int16Array;

  constructor(lot: LotLanes, rules: DriveRules, headings: number) {
    const { grid } = lot.reach.lanes;
    this.#lot = lot;
    this.#grid = grid;
    this.#rules = rules;
    this.#toGo = lot.toGo(rules);
    this.#headings = headings;
    this.#placeFt = Math.max(PLACE_FT, grid.cellFt);
    this.#placeCols = Math.ceil((grid.cols * grid.cellFt) / this.#placeFt);
    const placeRows = Math.ceil((grid.rows * grid.cellFt) / this.#placeFt);
    this.states = this.#placeCols * placeRows * headings * LIFTS;
    this.#entryOfCell = new Int16Array(grid.cols * grid.rows).fill(-1);
  }

  /** Number of the state: place, heading and height over the ground. */
  stateOf({ x, y, overFt }: NextPlace, heading: number): number {
    const place =
      Math.floor((y - this.#grid.originNorthFt) / this.#placeFt) * this.#placeCols +
      Math.floor((x - this.#grid.originEastFt) / this.#placeFt);
    const level = Math.round(overFt / LIFT_STEP_FT) + (LIFTS - 1) / 2;
    return (place * this.#headings + heading) * LIFTS + level;
  }

  /** Number of the entry nearest the cell of a place, looked for once a cell. */
  nearestEntry(x: number, y: number): number {
    return this.#nearestIn(this.#cellOf(x, y), x, y);
  }

  streetFt(x: number, y: number): number {
    return this.#lot.reach.entries[this.nearestEntry(x, y)]!.elevFt;
  }

  /** Likely cost to the street: over the ground, else `elseFt`, and at least the length the climb still to be made takes at the limit. */
  leftFt({ x, y, elevFt }: NextPlace, elseFt: number): number {
    const cell = this.#cellOf(x, y);
    const streetFt = this.#lot.reach.entries[this.#nearestIn(cell, x, y)]!.elevFt;
    const known = this.#toGo[cell]!;
    return Math.max(
      Math.abs(elevFt - streetFt) / this.#rules.limit,
      Number.isNaN(known) ? elseFt : known - this.#grid.cellFt / 2,
    );
  }

  #nearestIn(cell: number, x: number, y: number): number {
    const known = this.#entryOfCell[cell]!;
    if (known >= 0) return known;
    const nearest = nearestEntryIndex(this.#lot.reach.entries, x, y);
    this.#entryOfCell[cell] = nearest;
    return nearest;
  }

  #cellOf(x: number, y: number): number {
    const { originEastFt, originNorthFt, cellFt, cols } = this.#grid;
    return Math.floor((y - originNorthFt) / cellFt) * cols + Math.floor((x - originEastFt) / cellFt);
  }
}
