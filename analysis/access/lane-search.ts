/** Looks for the cheapest centre line from a garage door to the street. Method: docs/methods/access.md */
import FlatQueue from "flatqueue";
import type { LaneGround, StreetEntry } from "./access.js";
import {
  DEEPEST_FT,
  type DriveRules,
  riseLostFt,
  SHORT_DRIVE_FT,
  STRAIGHT_OUT_FT,
  THROAT_FT,
} from "./drive-rules.js";
import { LaneMap } from "./lane-map.js";
import { type LaneMove, laneMoves } from "./lane-moves.js";
import {
  along,
  bearingOf,
  joined,
  type LanePath,
  lengthFt,
  type Piece,
  type Pose,
  piecesOf,
} from "./lane-path.js";
import { type LanePlaces, NextPlace } from "./lane-places.js";
import { LaneWalk } from "./lane-walk.js";
import type { LotLanes } from "./lot-lanes.js";
import { MoveWalk } from "./move-walk.js";
import { type Bearing, ShortestCurve } from "./shortest-curve.js";
import { straightOut } from "./street-shots.js";

/** Finished lines whose profile or exact room failed before it gives up. */
const MOST_REFUSED = 24;
/** Straight runs to the street are tried from places whose remaining length is at most this. */
const SHOT_FROM_FT = 100;
const LONGEST_SHOT_FT = 150;
const ROUNDING_FT = 0.01;
/** A lane that reaches the street too high or too low must be pulled there along its whole length; feet of lane per foot. Judgement. */
const GAP_COST = 2;
/** Share of a full turn, counted with its sign from the door, after which a lane would cross itself. Judgement. */
const MOST_TURNED = 0.8;
/** How much dearer than the cheapest the line may be for the sake of finding it soon. */
const HASTE = 1.5;

export interface FoundLane {
  /** From the garage door to the street. */
  readonly path: LanePath;
  readonly entry: StreetEntry;
}

/** A place from which the street is reached by known pieces. */
interface Finish {
  readonly from: number;
  readonly pieces: readonly Piece[];
  readonly entry: StreetEntry;
}

/**
 * Heading-aware A* from the door outwards: places are (cell, heading, lift over the ground); moves are a straight and
 * arcs left and right at the tightest radius; on each the lane follows the ground or makes for the street's height,
 * within the grade limit at the inside edge. Cost is length, more on curves, plus the bench's earth and walls; what is
 * left is judged by `LotLanes.toGo` and by the climb still to be made. From places near the street the shortest curves
 * to the nearest entries are tried. `accept` has the last word on each finished line, cheapest first.
 */
export class LaneSearch {
  readonly #lot: LotLanes;
  readonly #walk: LaneWalk;
  readonly #moveWalk: MoveWalk;
  readonly #door: Pose;
  readonly #floorFt: number;
  readonly #rules: DriveRules;
  readonly #headings: number;
  readonly #moves: readonly LaneMove[];
  readonly #map: LaneMap;
  readonly #places: LanePlaces;
  readonly #next = new NextPlace();
  readonly #best: Float32Array;
  readonly #queue = new FlatQueue<number>();
  readonly #finishes: Finish[] = [];
  readonly #curve = new ShortestCurve();
  /** Rise lost while the grade changes at apron and throat, ft. */
  readonly #lostFt: number;

  constructor(
    lot: LotLanes,
    ground: LaneGround,
    door: Pose,
    floorFt: number,
    rules: DriveRules,
    headings: number,
  ) {
    this.#lot = lot;
    this.#walk = new LaneWalk(ground, lot.reach.lanes, rules, lot.bench);
    this.#door = door;
    this.#floorFt = floorFt;
    this.#rules = rules;
    this.#headings = headings;
    this.#moves = laneMoves(rules, headings, 1.5 * ground.grid.cellFt, door.heading);
    this.#map = new LaneMap(lot, rules, headings);
    this.#places = lot.places;
    this.#moveWalk = new MoveWalk(ground, rules, lot.bench, this.#moves, this.#places, this.#next);
    this.#best = lot.places.clear(this.#map.states);
    const { limit, apronGrade, throatGrade } = rules;
    this.#lostFt =
      riseLostFt(apronGrade, limit) + riseLostFt(throatGrade, limit) + THROAT_FT * (limit - throatGrade);
  }

  run(accept: (lane: FoundLane) => boolean, mostExpanded: number): FoundLane | null {
    this.#start();
    let expanded = 0;
    let refused = 0;
    for (let node = this.#queue.pop(); node !== undefined; node = this.#queue.pop()) {
      if (node < 0) {
        const finish = this.#finishes[-1 - node]!;
        const lane = { path: this.#trace(finish), entry: finish.entry };
        if (accept(lane)) return lane;
        if (++refused >= MOST_REFUSED) return null;
        continue;
      }
      const places = this.#places;
      if (places.spentFt[node]! > this.#best[places.state[node]!]!) continue;
      if (++expanded > mostExpanded) return null;
      if (places.leftFt[node]! <= SHOT_FROM_FT) {
        const from = this.#bearing(node);
        this.#shootStraight(node, from);
        this.#shoot(node, from);
      }
      this.#expand(node);
    }
    return null;
  }

  /** Straight out of the door; where even that has no room, straight on to a near street. */
  #start(): void {
    const walk = this.#walk;
    const places = this.#places;
    const next = this.#next;
    const { x, y } = this.#door;
    Object.assign(next, { x, y, elevFt: this.#floorFt, overFt: 0, spentFt: 0, climbFt: 0, ft: 0 });
    const start = places.add(next, 0, -1);
    places.leftFt[start] = this.#map.leftFt(next, 0);
    walk.resume(this.#floorFt, 0, 0, 0);
    if (!walk.walk(this.#door, OUT_PIECE, 0, NaN)) {
      this.#shootStraight(start, bearingOf(this.#door));
      return;
    }
    const out = along(this.#door, OUT_PIECE, STRAIGHT_OUT_FT);
    const { elevFt, overFt, spentFt, climbFt } = walk;
    Object.assign(next, { x: out.x, y: out.y, elevFt, overFt, spentFt, climbFt, ft: STRAIGHT_OUT_FT });
    this.#offer(0, start, OUT);
  }

  #expand(node: number): void {
    const places = this.#places;
    const walk = this.#moveWalk;
    const turned = places.turned[node]!;
    walk.startAt(node, this.#headingOf(turned), this.#map.streetFt(places.x[node]!, places.y[node]!));
    for (let m = 0; m < this.#moves.length; m++) {
      const move = this.#moves[m]!;
      const next = turned + move.piece.turn;
      if (Math.abs(next) > MOST_TURNED * this.#headings || !walk.reads(move)) continue;
      if (!walk.walks(move, false)) continue;
      this.#offer(next, node, m);
      // making for the street changes nothing where the ground already falls to it at the limit
      if (walk.madeForStreet(move)) continue;
      if (walk.walks(move, true)) this.#offer(next, node, m);
    }
  }

  /** Straight on to the street. */
  #shootStraight(node: number, from: Bearing): void {
    const shot = straightOut(this.#lot.reach.entries, from);
    if (shot && this.#mayArrive(node, shot.lengthFt, shot.entry))
      this.#finish(node, [{ turn: 0, lengthFt: shot.lengthFt, radiusFt: Infinity }], shot.entry);
  }

  /** The shortest curves to the entries nearest a place, square to the street. */
  #shoot(node: number, from: Bearing): void {
    const { exits, reach } = this.#lot;
    const { radiusFt } = this.#rules;
    const nearest = this.#map.nearestEntry(from.x, from.y);
    for (let i = Math.max(0, nearest - 1); i < Math.min(exits.length, nearest + 2); i++) {
      const entry = reach.entries[i]!;
      if (!this.#mayArrive(node, LONGEST_SHOT_FT, entry)) continue;
      const ft = this.#curve.between(from, exits[i]!, radiusFt, LONGEST_SHOT_FT);
      if (ft < LONGEST_SHOT_FT && this.#mayArrive(node, ft, entry))
        this.#finish(node, piecesOf(this.#curve, radiusFt).filter(isSome), entry);
    }
  }

  /** Whether a way of that length from a place to the street is not too long, and can make what is left of the climb. */
  #mayArrive(node: number, ft: number, entry: StreetEntry): boolean {
    const { elevFt, lengthFt: soFar, climbFt } = this.#places;
    const mostFt = this.#rules.limit * ft;
    return (
      ft <= LONGEST_SHOT_FT &&
      Math.abs(elevFt[node]! - entry.elevFt) <= mostFt + DEEPEST_FT &&
      this.#canClimb(soFar[node]! + ft, climbFt[node]! + mostFt, entry)
    );
  }

  /** Whether a whole line of a length that could rise so much, were it not for its ends, makes the climb. */
  #canClimb(ft: number, riseFt: number, entry: StreetEntry): boolean {
    const climbFt =
      ft <= SHORT_DRIVE_FT
        ? this.#rules.throatGrade * ft
        : Math.max(this.#rules.apronGrade * ft, riseFt - this.#lostFt);
    return climbFt >= Math.abs(this.#floorFt - entry.elevFt) - ROUNDING_FT;
  }

  /** Queues the line that reaches the street by these pieces, where they have room, climb enough and end near its height. */
  #finish(node: number, pieces: readonly Piece[], entry: StreetEntry): void {
    const walk = this.#walk;
    const { elevFt, overFt, spentFt, climbFt, lengthFt: soFar } = this.#places;
    walk.resume(elevFt[node]!, overFt[node]!, spentFt[node]!, climbFt[node]!);
    if (!walk.travel(this.#pose(node), pieces, soFar[node]!, entry.elevFt)) return;
    const gapFt = Math.abs(walk.elevFt - entry.elevFt);
    if (gapFt > DEEPEST_FT || !this.#canClimb(soFar[node]! + lengthFt({ pieces }), walk.climbFt, entry))
      return;
    this.#finishes.push({ from: node, pieces, entry });
    this.#queue.push(-this.#finishes.length, walk.spentFt + GAP_COST * gapFt);
  }

  #bearing(node: number): Bearing {
    const { x, y, turned } = this.#places;
    const { steps, ahead, up } = this.#moves[STRAIGHT]!;
    const i = this.#headingOf(turned[node]!) * steps;
    return { x: x[node]!, y: y[node]!, ahead: ahead[i]!, up: up[i]! };
  }

  #pose(node: number): Pose {
    const { x, y, turned } = this.#places;
    const turn = (2 * Math.PI * turned[node]!) / this.#headings;
    return { x: x[node]!, y: y[node]!, heading: this.#door.heading + turn };
  }

  /** Queues the place that a move has led to, unless it was reached for less. */
  #offer(turned: number, parent: number, move: number): void {
    const next = this.#next;
    const state = this.#map.stateOf(next, this.#headingOf(turned));
    const spentFt = Math.fround(next.spentFt);
    if (!(spentFt < this.#best[state]!)) return;
    this.#best[state] = spentFt;
    const places = this.#places;
    const node = places.add(next, turned, parent);
    places.state[node] = state;
    places.move[node] = move;
    places.leftFt[node] = this.#map.leftFt(next, places.leftFt[parent]! - next.ft);
    this.#queue.push(node, spentFt + HASTE * places.leftFt[node]!);
  }

  #headingOf(turned: number): number {
    return ((turned % this.#headings) + this.#headings) % this.#headings;
  }

  #trace({ from, pieces }: Finish): LanePath {
    const { parent, move } = this.#places;
    const run: Piece[] = [];
    for (let n = from; parent[n]! >= 0; n = parent[n]!)
      run.push(move[n] === OUT ? OUT_PIECE : this.#moves[move[n]!]!.piece);
    return { start: this.#door, pieces: joined([...run.reverse(), ...pieces]) };
  }
}

/** Number of the straight among the moves. */
const STRAIGHT = 0;
/** The first move of every lane, straight out of the door. */
const OUT = 3;
const OUT_PIECE: Piece = { turn: 0, lengthFt: STRAIGHT_OUT_FT, radiusFt: Infinity };

function isSome(piece: Piece): boolean {
  return piece.lengthFt > 1e-6;
}
