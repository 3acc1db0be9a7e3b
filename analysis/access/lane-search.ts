/** Looks for the cheapest centre line from a garage door to the street. Method: docs/methods/access.md */
import FlatQueue from "flatqueue";
import type { LaneGround, Reach, StreetEntry } from "./access.js";
import {
  centreLimit,
  DEEPEST_FT,
  type DriveRules,
  riseLostFt,
  SHORT_DRIVE_FT,
  STRAIGHT_OUT_FT,
  THROAT_FT,
} from "./drive-rules.js";
import {
  along,
  joined,
  type LanePath,
  lengthFt,
  type Piece,
  type Pose,
  shortestPieces,
} from "./lane-path.js";
import { LaneWalk } from "./lane-walk.js";
import { entriesNear, leavingBy, nearestEntryIndex, straightOut } from "./street-shots.js";

/** Heights of the lane over the ground told apart. */
const LIFT_STEP_FT = 4;
const LIFTS = 2 * Math.round(DEEPEST_FT / LIFT_STEP_FT) + 1;
/** Finished lines whose profile or exact room failed before it gives up. */
const MOST_REFUSED = 60;
/** Straight runs to the street are tried from places whose remaining length is at most this. */
const SHOT_FROM_FT = 100;
const LONGEST_SHOT_FT = 150;
const ROUNDING_FT = 0.01;
/** A lane that moves this share of what it may already makes for the street as fast as it can. */
const NEARLY_ALL = 0.999;
/** A lane that reaches the street too high or too low must be pulled there along its whole length; feet of lane per foot. Judgement. */
const GAP_COST = 2;
/** How much dearer than the cheapest the line may be for the sake of finding it soon. */
const HASTE = 1.5;

export interface FoundLane {
  /** From the garage door to the street. */
  readonly path: LanePath;
  readonly entry: StreetEntry;
}

/**
 * Heading-aware A* from the door outwards: places are (cell, heading, lift over the ground); moves are a straight and
 * arcs left and right at the tightest radius; on each the lane follows the ground or makes for the street's height,
 * within the grade limit at the inside edge. Cost is length, more on curves, plus the bench's earth and
 * walls; the remaining length is bounded by `Reach.distanceFt`. From places near the street the shortest curve to an
 * entry is tried. `accept` has the last word on each finished line, cheapest first.
 */
export class LaneSearch {
  readonly #reach: Reach;
  readonly #ground: LaneGround;
  readonly #walk: LaneWalk;
  readonly #door: Pose;
  readonly #floorFt: number;
  readonly #rules: DriveRules;
  readonly #moves: readonly Piece[];
  /** Headings told apart, evenly round the compass from the door's. */
  readonly #headings: number;
  readonly #queue = new FlatQueue<number>();
  readonly #best: Float32Array;
  readonly #entryOfCell: Int16Array;
  /** Rise lost while the grade changes at apron and throat, ft. */
  readonly #lostFt: number;

  // places found so far, by number
  readonly #pose: Pose[] = [];
  readonly #elev: number[] = [];
  readonly #lift: number[] = [];
  readonly #cost: number[] = [];
  readonly #climb: number[] = [];
  readonly #left: number[] = [];
  readonly #length: number[] = [];
  readonly #parent: number[] = [];
  readonly #pieces: (readonly Piece[])[] = [];
  readonly #entry: (StreetEntry | null)[] = [];

  constructor(
    reach: Reach,
    ground: LaneGround,
    door: Pose,
    floorFt: number,
    rules: DriveRules,
    headings: number,
  ) {
    this.#headings = headings;
    this.#reach = reach;
    this.#ground = ground;
    this.#walk = new LaneWalk(ground, reach.lanes, rules);
    this.#door = door;
    this.#floorFt = floorFt;
    this.#rules = rules;
    const { radiusFt, limit, apronGrade, throatGrade } = rules;
    const turn = (2 * Math.PI) / headings;
    this.#moves = [
      // long enough to leave its cell
      { turn: 0, lengthFt: Math.max(turn * radiusFt, 1.5 * ground.grid.cellFt), radiusFt: Infinity },
      { turn: 1, lengthFt: turn * radiusFt, radiusFt },
      { turn: -1, lengthFt: turn * radiusFt, radiusFt },
    ];
    this.#best = new Float32Array(ground.grid.cols * ground.grid.rows * headings * LIFTS).fill(Infinity);
    this.#entryOfCell = new Int16Array(ground.grid.cols * ground.grid.rows).fill(-1);
    this.#lostFt =
      riseLostFt(apronGrade, limit) + riseLostFt(throatGrade, limit) + THROAT_FT * (limit - throatGrade);
  }

  run(accept: (lane: FoundLane) => boolean, mostExpanded: number): FoundLane | null {
    this.#start();
    let expanded = 0;
    let refused = 0;
    for (let node = this.#queue.pop(); node !== undefined; node = this.#queue.pop()) {
      const entry = this.#entry[node]!;
      if (entry !== null) {
        const lane = { path: this.#trace(node), entry };
        if (accept(lane)) return lane;
        if (++refused >= MOST_REFUSED) return null;
        continue;
      }
      if (this.#cost[node]! > this.#best[this.#key(this.#pose[node]!, this.#lift[node]!)]!) continue;
      if (++expanded > mostExpanded) return null;
      if (this.#left[node]! <= SHOT_FROM_FT) {
        this.#shootStraight(node);
        this.#shoot(node);
      }
      this.#expand(node);
    }
    return null;
  }

  /** Cost of a line walked as the search walks it; null where it has no room or cannot climb enough. */
  costOf({ path, entry }: FoundLane): number | null {
    const walk = this.#walk;
    walk.resume(this.#floorFt, 0, 0, 0);
    if (!walk.travel(path.start, path.pieces, 0, NaN) || !this.#arrives(entry, lengthFt(path))) return null;
    return walk.spentFt + GAP_COST * Math.abs(walk.elevFt - entry.elevFt);
  }

  /** Straight out of the door; where even that has no room, straight on to a near street. */
  #start(): void {
    const out: Piece = { turn: 0, lengthFt: STRAIGHT_OUT_FT, radiusFt: Infinity };
    this.#walk.resume(this.#floorFt, 0, 0, 0);
    this.#add(this.#door, -1, [], null, 0);
    if (this.#walk.walk(this.#door, out, 0, NaN))
      this.#add(along(this.#door, out, STRAIGHT_OUT_FT), 0, [out], null, STRAIGHT_OUT_FT);
    else this.#shootStraight(0);
  }

  #expand(node: number): void {
    const pose = this.#pose[node]!;
    const streetFt = this.#reach.entries[this.#nearestEntry(pose)]!.elevFt;
    const walk = this.#walk;
    for (const piece of this.#moves) {
      for (const target of [NaN, streetFt]) {
        this.#from(node);
        const before = walk.elevFt;
        if (!walk.walk(pose, piece, this.#length[node]!, target)) break;
        this.#add(along(pose, piece, piece.lengthFt), node, [piece], null, piece.lengthFt);
        // making for the street changes nothing where the ground already falls to it at the limit
        const moved = walk.elevFt - before;
        const most = centreLimit(this.#rules.limit, piece.radiusFt, this.#rules.widthFt) * piece.lengthFt;
        if (Math.abs(moved) > NEARLY_ALL * most && moved * (streetFt - before) > 0) break;
      }
    }
  }

  /** The shortest curves to the entries nearest a place, square to the street. */
  #shoot(node: number): void {
    const pose = this.#pose[node]!;
    for (const entry of entriesNear(this.#reach.entries, this.#nearestEntry(pose)))
      this.#finish(node, shortestPieces(pose, leavingBy(entry), this.#rules.radiusFt).filter(isSome), entry);
  }

  #shootStraight(node: number): void {
    const shot = straightOut(this.#reach.entries, this.#pose[node]!);
    if (shot) this.#finish(node, [{ turn: 0, lengthFt: shot.lengthFt, radiusFt: Infinity }], shot.entry);
  }

  #finish(node: number, pieces: readonly Piece[], entry: StreetEntry): void {
    const ft = lengthFt({ pieces });
    if (ft > LONGEST_SHOT_FT) return;
    this.#from(node);
    const end = this.#walk.travel(this.#pose[node]!, pieces, this.#length[node]!, entry.elevFt);
    if (!end || !this.#arrives(entry, this.#length[node]! + ft)) return;
    this.#walk.spentFt += GAP_COST * Math.abs(this.#walk.elevFt - entry.elevFt);
    this.#add(end, node, pieces, entry, ft);
  }

  /** Whether a line of that length can make the climb at all, and its end lies near enough to the street. */
  #arrives(entry: StreetEntry, ft: number): boolean {
    const climbFt =
      ft <= SHORT_DRIVE_FT
        ? this.#rules.throatGrade * ft
        : Math.max(this.#rules.apronGrade * ft, this.#walk.climbFt - this.#lostFt);
    return (
      climbFt >= Math.abs(this.#floorFt - entry.elevFt) - ROUNDING_FT &&
      Math.abs(this.#walk.elevFt - entry.elevFt) <= DEEPEST_FT
    );
  }

  /** Number of the entry nearest the cell of a place, looked for once a cell. */
  #nearestEntry({ x, y }: Pose): number {
    const cell = this.#cellOf(x, y);
    const known = this.#entryOfCell[cell]!;
    if (known >= 0) return known;
    const nearest = nearestEntryIndex(this.#reach.entries, x, y);
    this.#entryOfCell[cell] = nearest;
    return nearest;
  }

  #cellOf(x: number, y: number): number {
    const { grid } = this.#ground;
    return (
      Math.floor((y - grid.originNorthFt) / grid.cellFt) * grid.cols +
      Math.floor((x - grid.originEastFt) / grid.cellFt)
    );
  }

  /** Takes the walk up at a place. */
  #from(node: number): void {
    this.#walk.resume(this.#elev[node]!, this.#lift[node]!, this.#cost[node]!, this.#climb[node]!);
  }

  /** Notes the place the walk has come to, unless it was reached for less. */
  #add(pose: Pose, parent: number, pieces: readonly Piece[], entry: StreetEntry | null, ft: number): void {
    const { spentFt, overFt } = this.#walk;
    if (!entry && parent >= 0) {
      const key = this.#key(pose, overFt);
      if (!(spentFt < this.#best[key]!)) return;
      this.#best[key] = spentFt;
    }
    const left = entry ? 0 : Math.max(this.#remaining(pose, parent, ft), this.#climbLeft(pose));
    const node = this.#pose.length;
    this.#pose.push(pose);
    this.#elev.push(this.#walk.elevFt);
    this.#lift.push(this.#walk.overFt);
    this.#cost.push(Math.fround(spentFt));
    this.#climb.push(this.#walk.climbFt);
    this.#left.push(left);
    this.#length.push(parent >= 0 ? this.#length[parent]! + ft : 0);
    this.#parent.push(parent);
    this.#pieces.push(pieces);
    this.#entry.push(entry);
    if (parent >= 0) this.#queue.push(node, spentFt + HASTE * left);
  }

  /** Length the climb still to be made takes at the limit. */
  #climbLeft(pose: Pose): number {
    return (
      Math.abs(this.#walk.elevFt - this.#reach.entries[this.#nearestEntry(pose)]!.elevFt) / this.#rules.limit
    );
  }

  #remaining({ x, y }: Pose, parent: number, ft: number): number {
    const { grid, values } = this.#reach.distanceFt;
    const known = values[this.#cellOf(x, y)]!;
    if (!Number.isNaN(known)) return Math.max(0, known - grid.cellFt / 2);
    return parent >= 0 ? Math.max(0, this.#left[parent]! - ft) : 0;
  }

  #key({ x, y, heading }: Pose, lift: number): number {
    const cell = this.#cellOf(x, y);
    const turns = Math.round(((heading - this.#door.heading) * this.#headings) / (2 * Math.PI));
    const direction = ((turns % this.#headings) + this.#headings) % this.#headings;
    const level = Math.round(lift / LIFT_STEP_FT) + (LIFTS - 1) / 2;
    return (cell * this.#headings + direction) * LIFTS + level;
  }

  #trace(node: number): LanePath {
    const runs: (readonly Piece[])[] = [];
    for (let n = node; n >= 0; n = this.#parent[n]!) runs.push(this.#pieces[n]!);
    return { start: this.#door, pieces: joined(runs.reverse().flat()) };
  }
}

function isSome(piece: Piece): boolean {
  return piece.lengthFt > 1e-6;
}
