/** Places a search has come to, by number, in arrays that one lot's searches use again and again. */

const FIRST_ROOM = 4096;

/** A place that a walk has come to and a search may add; of the lane there. */
export class NextPlace {
  x = 0;
  y = 0;
  elevFt = 0;
  /** How far that lies over the ground. */
  overFt = 0;
  /** Cost so far in feet of plain lane. */
  spentFt = 0;
  /** Most the lane so far could have climbed. */
  climbFt = 0;
  /** Lane since the place it comes from. */
  ft = 0;
}

export class LanePlaces {
  count = 0;
  x = new Float64Array(FIRST_ROOM);
  y = new Float64Array(FIRST_ROOM);
  /** Steps of heading turned left since the door. */
  turned = new Int16Array(FIRST_ROOM);
  elevFt = new Float32Array(FIRST_ROOM);
  overFt = new Float32Array(FIRST_ROOM);
  spentFt = new Float32Array(FIRST_ROOM);
  climbFt = new Float32Array(FIRST_ROOM);
  /** Likely cost from here to the street. */
  leftFt = new Float32Array(FIRST_ROOM);
  /** Lane from the door to here. */
  lengthFt = new Float32Array(FIRST_ROOM);
  /** Number of the state it is a place of. */
  state = new Int32Array(FIRST_ROOM);
  parent = new Int32Array(FIRST_ROOM);
  /** Number of the move that led here. */
  move = new Int8Array(FIRST_ROOM);
  #best = new Float32Array(0);

  /** Forgets the places and everything reached; `keys` different states can be told apart. */
  clear(keys: number): Float32Array {
    this.count = 0;
    if (this.#best.length < keys) this.#best = new Float32Array(keys);
    this.#best.fill(Infinity, 0, keys);
    return this.#best;
  }

  /** Number of a new place, come to from another; `parent` −1 where the lane begins. */
  add({ x, y, elevFt, overFt, spentFt, climbFt, ft }: NextPlace, turned: number, parent: number): number {
    if (this.count === this.x.length) this.#grow();
    const place = this.count++;
    this.x[place] = x;
    this.y[place] = y;
    this.elevFt[place] = elevFt;
    this.overFt[place] = overFt;
    this.spentFt[place] = spentFt;
    this.climbFt[place] = climbFt;
    this.lengthFt[place] = parent < 0 ? 0 : this.lengthFt[parent]! + ft;
    this.turned[place] = turned;
    this.parent[place] = parent;
    return place;
  }

  #grow(): void {
    const room = 2 * this.x.length;
    const wider = <T extends Float64Array | Float32Array | Int32Array | Int16Array | Int8Array>(
      from: T,
      into: T,
    ): T => {
      into.set(from);
      return into;
    };
    this.x = wider(this.x, new Float64Array(room));
    this.y = wider(this.y, new Float64Array(room));
    this.turned = wider(this.turned, new Int16Array(room));
    this.elevFt = wider(this.elevFt, new Float32Array(room));
    this.overFt = wider(this.overFt, new Float32Array(room));
    this.spentFt = wider(this.spentFt, new Float32Array(room));
    this.climbFt = wider(this.climbFt, new Float32Array(room));
    this.leftFt = wider(this.leftFt, new Float32Array(room));
    this.lengthFt = wider(this.lengthFt, new Float32Array(room));
    this.state = wider(this.state, new Int32Array(room));
    this.parent = wider(this.parent, new Int32Array(room));
    this.move = wider(this.move, new Int8Array(room));
  }
}
