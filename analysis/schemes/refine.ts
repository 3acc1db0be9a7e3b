/** Rounds of refinement: the better part of the trials goes on, moved in ever finer steps. */
import { CLOSE, type Effort, type LevelChoice, type Model, NEARER, QUICK, type Trial } from "./model.js";
import { areNear } from "./near-places.js";
import type { Place } from "./place.js";
import type { Placings } from "./placings.js";

/** Rounds of refinement: how many go in, how closely they are looked at, how far they move, turn and lift. */
export const ROUNDS: readonly Round[] = [
  { entrants: 24, effort: QUICK, moveFt: 6, turnDeg: 8, liftFt: 0.8 },
  { entrants: 12, effort: QUICK, moveFt: 3, turnDeg: 4, liftFt: 0.4 },
  { entrants: 9, effort: NEARER, moveFt: 2, turnDeg: 3, liftFt: 0.4, shakes: true },
  { entrants: 3, effort: CLOSE, moveFt: 1, turnDeg: 1.5, liftFt: 0.2 },
  { entrants: 2, effort: CLOSE, moveFt: 0.5, turnDeg: 0.7, liftFt: 0.1 },
  { entrants: 1, effort: CLOSE, moveFt: 0.25, turnDeg: 0.3, liftFt: 0.05 },
];
/** A quick answer to whether anything fits. */
export const SHORT_ROUNDS: readonly Round[] = [
  { entrants: 8, effort: QUICK, moveFt: 6, turnDeg: 8, liftFt: 0.8 },
  { entrants: 3, effort: NEARER, moveFt: 2, turnDeg: 3, liftFt: 0.4 },
  { entrants: 2, effort: CLOSE, moveFt: 0.5, turnDeg: 1, liftFt: 0.1 },
];
/** Nearer to the best (or less turned, as a sine) a place is no other one. */
const APART_FT = 8;
const APART_SINE = 0.4;
/** Times as many trials as enter a round are looked at before, where it looks more closely. */
const LOOKED_AT = 3;
/** This near (and as little turned, as a sine) two trials of one shape have become the same. */
const SAME_FT = 3;
const SAME_SINE = 0.1;
/** Times a round may go over its moves before the next, finer one takes over. */
const MOST_SWEEPS = 6;

export interface Round {
  readonly entrants: number;
  /** The best is knocked out of its place in several directions afterwards, and refined again from there. */
  readonly shakes?: boolean;
  readonly effort: Effort;
  readonly moveFt: number;
  readonly turnDeg: number;
  readonly liftFt: number;
}

export interface Found {
  readonly best: Trial;
  readonly placesTried: number;
  /** Trials that walked the real ground. */
  readonly closelyTried: number;
  /** Cheapest trial of each shape family, cheapest first. */
  readonly byFamily: readonly Trial[];
  /** Next best places of any shape, away from the best, cheapest first. */
  readonly others: readonly Trial[];
}

export function byScore(a: Trial, b: Trial): number {
  return a.scoreUsd - b.scoreUsd;
}

/** Round after round the better part goes on, moved in finer steps as long as that lowers the score. */
export function refine(
  seeds: readonly Trial[],
  rounds: readonly Round[],
  model: Model,
  placings: Placings,
  placesTried: number,
): Found | null {
  const cheapest = new Map<string, Trial>();
  let closelyTried = 0;
  let trials = seeds;
  let effort: Effort | null = null;
  let walked: readonly Trial[] = [];
  for (const round of rounds) {
    const entrants =
      effort === null || round.effort === effort
        ? trials.slice(0, round.entrants)
        : seenCloser(trials, round, model);
    effort = round.effort;
    const count = () => {
      if (round.effort.exact) closelyTried++;
    };
    trials = unlike(entrants.map((trial) => improve(trial, round, model, placings, count)).sort(byScore));
    if (round.shakes) trials = shaken(trials, round, model, placings, count);
    if (round.effort === NEARER) walked = trials;
    for (const trial of trials) {
      const known = cheapest.get(trial.shape.family);
      // a closer look replaces a quick one even where it finds more to pay for
      if (!known || round.effort.exact || trial.scoreUsd < known.scoreUsd)
        cheapest.set(trial.shape.family, trial);
    }
  }
  const [best] = trials;
  if (!best) return null;
  const others = walked.filter(({ place }) => !areNear(place, best.place, APART_FT, APART_SINE));
  return { best, placesTried, closelyTried, byFamily: [...cheapest.values()].sort(byScore), others };
}

/** What a closer look finds too dear must not crowd out the rest: more than go in are looked at, each at its level. */
function seenCloser(trials: readonly Trial[], { entrants, effort }: Round, model: Model): readonly Trial[] {
  return trials
    .slice(0, LOOKED_AT * entrants)
    .map((like) => model.tryAt(like.place, like.shape, effort, { how: "carry", like }))
    .filter((trial) => trial !== null)
    .sort(byScore)
    .slice(0, entrants);
}

/** The trials that did not end in the place of a better one. */
function unlike(trials: readonly Trial[]): readonly Trial[] {
  const kept: Trial[] = [];
  for (const trial of trials)
    if (
      !kept.some(
        ({ place, shape }) => shape === trial.shape && areNear(place, trial.place, SAME_FT, SAME_SINE),
      )
    )
      kept.push(trial);
  return kept;
}

/** Moves, turns, lifts and lowers the house in steps of one size as long as that lowers the score. */
function improve(
  start: Trial,
  { effort, moveFt, turnDeg, liftFt }: Round,
  model: Model,
  placings: Placings,
  count: () => void,
): Trial {
  let best = start;
  const take = (trial: Trial | null): boolean => {
    count();
    if (!trial || trial.scoreUsd >= best.scoreUsd) return false;
    best = trial;
    return true;
  };
  const moves = effort.exact ? MOVES.length : STRAIGHT_MOVES;
  const steps = moves + LIFTS.length;
  // one step after the other until all have failed from where it stands
  for (let i = 0, failed = 0; i < MOST_SWEEPS * steps && failed < steps; i++) {
    failed++;
    const step = i % steps;
    if (step < moves) {
      const [du, dv, dt] = MOVES[step]!;
      for (let again = 0; again < MOST_SWEEPS; again++) {
        const place = moved(best.place, du * moveFt, dv * moveFt, (dt * turnDeg * Math.PI) / 180);
        if (!placings.holds(place, best.shape)) break;
        if (!take(model.tryAt(place, best.shape, effort, carried(best)))) break;
        // a step that has just failed need not be tried again
        failed = again + 1 < MOST_SWEEPS ? 1 : 0;
      }
    } else {
      const levelFt = best.levelFt + LIFTS[step - moves]! * liftFt;
      const lifted = { how: "set", like: best, levelFt, giveUpUsd: best.scoreUsd } as const;
      if (take(model.tryAt(best.place, best.shape, effort, lifted))) failed = 0;
    }
  }
  // the closest look is level enough by its own lifts, but steps change only here
  if (!effort.exact || best.stepFt > 0)
    take(model.tryAt(best.place, best.shape, effort, { how: "near", like: best }));
  return best;
}

/** At the level of the best so far, as far as it may still come out cheaper. */
function carried(best: Trial): LevelChoice {
  return { how: "carry", like: best, giveUpUsd: best.scoreUsd };
}

/** Trials that are knocked about. */
const KNOCKED = 2;
/** Knocks: feet along u and v, and degrees. */
const KNOCKS = [
  [4, 0, 0],
  [-4, 0, 0],
  [0, 4, 0],
  [0, -4, 0],
  [0, 0, 7],
  [0, 0, -7],
  [3, 3, 5],
  [-3, -3, 5],
  [3, -3, -5],
  [-3, 3, -5],
] as const;

/** The trials with the best few knocked about: a lower score found from a knock goes on in place of where it started. */
function shaken(
  trials: readonly Trial[],
  round: Round,
  model: Model,
  placings: Placings,
  count: () => void,
): readonly Trial[] {
  const after = trials.map((start, i) => {
    if (i >= KNOCKED) return start;
    let best = start;
    for (const [du, dv, deg] of KNOCKS) {
      const place = moved(start.place, du, dv, (deg * Math.PI) / 180);
      if (!placings.holds(place, start.shape)) continue;
      const knocked = model.tryAt(place, start.shape, round.effort, { how: "near", like: start });
      if (!knocked) continue;
      const trial = improve(knocked, round, model, placings, count);
      if (trial.scoreUsd < best.scoreUsd) best = trial;
    }
    return best;
  });
  return after.sort(byScore);
}

const LIFTS = [1, -1] as const;
/** Moves that are not slantwise, the first of the list: enough where a finer round follows. */
const STRAIGHT_MOVES = 6;
const MOVES: readonly (readonly [du: number, dv: number, turn: number])[] = [
  [1, 0, 0],
  [-1, 0, 0],
  [0, 1, 0],
  [0, -1, 0],
  [0, 0, 1],
  [0, 0, -1],
  [1, 1, 0],
  [1, -1, 0],
  [-1, 1, 0],
  [-1, -1, 0],
  [1, 0, 1],
  [-1, 0, 1],
  [1, 0, -1],
  [-1, 0, -1],
  [0, 1, 1],
  [0, -1, 1],
  [0, 1, -1],
  [0, -1, -1],
];

function moved({ eastFt, northFt, turnRad }: Place, du: number, dv: number, turn: number): Place {
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  return {
    eastFt: eastFt + du * cos - dv * sin,
    northFt: northFt + du * sin + dv * cos,
    turnRad: turnRad + turn,
  };
}
