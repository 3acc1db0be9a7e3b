/** Looks for the cheapest centre line from a garage door to the street. Method: docs/methods/access.md */
import FlatQueue from "flatqueue";
import type { LaneGround, Reach, StreetEntry } from "./access.js";
import {
  APRON_FT,
  centreLimit,
  DEEPEST_FT,
  type DriveRules,
  riseLostFt,
  SHORT_DRIVE_FT,
  STRAIGHT_OUT_FT,
  THROAT_FT,
} from "./drive-rules.js";
import { GroundLook } from "./ground-look.js";
import { benchCost } from "./lane-cost.js";
import {
  along,
  joined,
  type LanePath,
  lengthFt,
  type Piece,
  type Pose,
  shortestPieces,
} from "./lane-path.js";
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
const SAMPLE_FT = 4;
/** The tightest curve against straight lane of the same length; wider ones in proportion. Drivers and trucks dislike them. Judgement. */
const CURVE_COST = 0.3;
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
 * arcs left and right of the tightest radius; on each the lane follows the ground or makes for the
 * street's height, within the grade limit at the inside edge. Cost is length, more on curves, plus the bench's earth and
 * walls; the remaining length is bounded by `Reach.distanceFt`. From places near the street the shortest curve to an
 * entry is tried. `accept` has the last word on each finished line, cheapest first.
 */
export class LaneSearch {
  readonly #reach: Reach;
  readonly #ground: LaneGround;
  readonly #look: GroundLook;
  readonly #lotLook: GroundLook;
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
  readonly #capacity: number[] = [];
  readonly #left: number[] = [];
  readonly #length: number[] = [];
  readonly #parent: number[] = [];
  readonly #pieces: (readonly Piece[])[] = [];
  readonly #entry: (StreetEntry | null)[] = [];

  // of the walk under way
  #z = 0;
  #over = 0;
  #spent = 0;
  #rise = 0;

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
    this.#look = new GroundLook(ground);
    this.#lotLook = new GroundLook(reach.lanes);
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
    let pose = path.start;
    this.#z = this.#floorFt;
    this.#spent = 0;
    this.#rise = 0;
    let onApron = APRON_FT;
    for (const piece of path.pieces) {
      const first = Math.min(piece.lengthFt, Math.max(0, onApron));
      if (first > 0 && !this.#walk(pose, { ...piece, lengthFt: first }, true, NaN)) return null;
      const at = along(pose, piece, first);
      if (
        piece.lengthFt > first &&
        !this.#walk(at, { ...piece, lengthFt: piece.lengthFt - first }, false, NaN)
      )
        return null;
      onApron -= piece.lengthFt;
      pose = along(pose, piece, piece.lengthFt);
    }
    return this.#arrives(entry, lengthFt(path))
      ? this.#spent + GAP_COST * Math.abs(this.#z - entry.elevFt)
      : null;
  }

  #start(): void {
    const out: Piece = { turn: 0, lengthFt: STRAIGHT_OUT_FT, radiusFt: Infinity };
    this.#z = this.#floorFt;
    this.#spent = 0;
    this.#rise = 0;
    this.#over = 0;
    this.#add(this.#door, -1, [], null, 0);
    if (this.#walk(this.#door, out, true, NaN))
      this.#add(along(this.#door, out, STRAIGHT_OUT_FT), 0, [out], null, STRAIGHT_OUT_FT);
    else this.#shootStraight(0);
  }

  #expand(node: number): void {
    const pose = this.#pose[node]!;
    const streetFt = this.#reach.entries[this.#nearestEntry(pose)]!.elevFt;
    const onApron = this.#length[node]! < APRON_FT;
    for (const piece of this.#moves) {
      for (const target of [NaN, streetFt]) {
        this.#from(node);
        const before = this.#z;
        if (!this.#walk(pose, piece, onApron, target)) break;
        this.#add(along(pose, piece, piece.lengthFt), node, [piece], null, piece.lengthFt);
        // making for the street changes nothing where the ground already falls to it at the limit
        const moved = this.#z - before;
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
    let ft = this.#length[node]!;
    if (lengthFt({ pieces }) > LONGEST_SHOT_FT) return;
    this.#from(node);
    let at = this.#pose[node]!;
    for (const piece of pieces) {
      // the part of a shot that still lies on the apron keeps to its grade
      const first = Math.min(piece.lengthFt, Math.max(0, APRON_FT - ft));
      if (first > 0 && !this.#walk(at, { ...piece, lengthFt: first }, true, entry.elevFt)) return;
      const rest = piece.lengthFt - first;
      if (rest > 0 && !this.#walk(along(at, piece, first), { ...piece, lengthFt: rest }, false, entry.elevFt))
        return;
      at = along(at, piece, piece.lengthFt);
      ft += piece.lengthFt;
    }
    if (!this.#arrives(entry, ft)) return;
    this.#spent += GAP_COST * Math.abs(this.#z - entry.elevFt);
    this.#add(at, node, pieces, entry, lengthFt({ pieces }));
  }

  /** Whether a line of that length can make the climb at all, and its end lies near enough to the street. */
  #arrives(entry: StreetEntry, ft: number): boolean {
    const climbFt =
      ft <= SHORT_DRIVE_FT
        ? this.#rules.throatGrade * ft
        : Math.max(this.#rules.apronGrade * ft, this.#rise - this.#lostFt);
    return (
      climbFt >= Math.abs(this.#floorFt - entry.elevFt) - ROUNDING_FT &&
      Math.abs(this.#z - entry.elevFt) <= DEEPEST_FT
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
    this.#z = this.#elev[node]!;
    this.#over = this.#lift[node]!;
    this.#spent = this.#cost[node]!;
    this.#rise = this.#capacity[node]!;
  }

  /** Carries height, cost and possible rise along a piece; false where there is no room or the lane lies too deep or too high. */
  #walk(
    { x, y, heading }: Pose,
    { turn, lengthFt, radiusFt }: Piece,
    onApron: boolean,
    towardFt: number,
  ): boolean {
    const rules = this.#rules;
    const curveLimit = centreLimit(rules.limit, turn === 0 ? Infinity : radiusFt, rules.widthFt);
    const limit = onApron ? Math.min(rules.apronGrade, curveLimit) : curveLimit;
    const steps = Math.ceil(lengthFt / SAMPLE_FT);
    const stepFt = lengthFt / steps;
    const perFt = turn === 0 ? 1 : 1 + (CURVE_COST * rules.radiusFt) / radiusFt;
    const look = this.#look;
    const room = onApron ? this.#lotLook : look;
    const needFt = rules.halfBedFt - this.#ground.grid.cellFt / 4; // clearances are known to half a cell
    const sine = Math.sin(heading);
    const cosine = Math.cos(heading);
    for (let k = 1; k <= steps; k++) {
      const ft = k * stepFt;
      let ahead = cosine;
      let up = sine;
      let px = x + ft * cosine;
      let py = y + ft * sine;
      if (turn !== 0) {
        const next = heading + (turn * ft) / radiusFt;
        ahead = Math.cos(next);
        up = Math.sin(next);
        px = x + turn * radiusFt * (up - sine);
        py = y - turn * radiusFt * (ahead - cosine);
      }
      if (!room.at(px, py) || room.clearanceFt < needFt) return false;
      if (onApron && !look.at(px, py)) return false;
      const ground = look.elevFt;
      const goal = Number.isNaN(towardFt) ? ground : towardFt;
      this.#z += Math.max(-limit * stepFt, Math.min(limit * stepFt, goal - this.#z));
      this.#over = this.#z - ground;
      if (Math.abs(this.#over) > DEEPEST_FT) return false;
      const side = onApron ? 0 : look.gradNorth * ahead - look.gradEast * up;
      this.#spent += stepFt * (perFt + benchCost(this.#over, side, rules));
    }
    this.#rise += limit * lengthFt;
    return true;
  }

  /** Notes the place the walk has come to, unless it was reached for less. */
  #add(pose: Pose, parent: number, pieces: readonly Piece[], entry: StreetEntry | null, ft: number): void {
    if (!entry && parent >= 0) {
      const key = this.#key(pose, this.#over);
      if (!(this.#spent < this.#best[key]!)) return;
      this.#best[key] = this.#spent;
    }
    const left = entry ? 0 : Math.max(this.#remaining(pose, parent, ft), this.#climbLeft(pose));
    const node = this.#pose.length;
    this.#pose.push(pose);
    this.#elev.push(this.#z);
    this.#lift.push(this.#over);
    this.#cost.push(Math.fround(this.#spent));
    this.#capacity.push(this.#rise);
    this.#left.push(left);
    this.#length.push(parent >= 0 ? this.#length[parent]! + ft : 0);
    this.#parent.push(parent);
    this.#pieces.push(pieces);
    this.#entry.push(entry);
    if (parent >= 0) this.#queue.push(node, this.#spent + HASTE * left);
  }

  /** Length the climb still to be made takes at the limit. */
  #climbLeft(pose: Pose): number {
    return Math.abs(this.#z - this.#reach.entries[this.#nearestEntry(pose)]!.elevFt) / this.#rules.limit;
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
