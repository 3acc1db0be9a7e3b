/** What would help where no lane keeps the rules, found by trying. */
import { ringContains } from "../geometry/plane.js";
import { measure } from "../measure.js";
import type { TriedHelp } from "./access.js";
import { driveRules, RISER_FT, shortestRunFt } from "./drive-rules.js";
import { ft, type Gentlest, lengthOf } from "./gentlest-lane.js";
import { type Doorstep, doorstepOf, type LaidLane, layLane, relayLane } from "./lay-lane.js";
import type { LotLanes } from "./lot-lanes.js";

/** How closely a floor that would do is found. */
const CLOSE_FT = 0.1;
/** A turn a car still makes. Common practice, no source. */
const TIGHT_RADIUS_FT = 15;

interface Help {
  readonly words: readonly string[];
  readonly tried: TriedHelp | null;
}

export function whatHelps(
  lot: LotLanes,
  doorstep: Doorstep,
  gentlest: Gentlest | null,
): { readonly helps: readonly string[]; readonly tried: readonly TriedHelp[] } {
  const steeper: Help[] =
    gentlest && gentlest.gradePct > lot.site.request.rules.driveway.maxGradePct
      ? [{ words: [], tried: trial("steeper", gentlest.laid, gentlest.gradePct) }]
      : [];
  const helps = [
    ...steeper,
    otherFloor(lot, doorstep, gentlest),
    evenEnds(lot, gentlest),
    tighterTurns(lot, doorstep),
    easement(lot, doorstep),
    atTheStreet(lot, doorstep),
  ];
  return {
    helps: helps.flatMap(({ words }) => words),
    tried: helps.flatMap(({ tried }) => tried ?? []),
  };
}

function trial(what: TriedHelp["what"], laid: LaidLane | null, gradePct: number, offLotFt = 0): TriedHelp {
  return laid
    ? { what, works: true, lengthFt: lengthOf(laid), gradePct, offLotFt }
    : { what, works: false, lengthFt: null, gradePct: null, offLotFt: null };
}

/** How far the gentlest line climbs within the rules, by halving. */
function otherFloor(lot: LotLanes, doorstep: Doorstep, gentlest: Gentlest | null): Help {
  if (!gentlest) return { words: [], tried: null };
  const { maxGradePct } = lot.site.request.rules.driveway;
  const rules = driveRules(lot.site.request);
  const { garageFloorFt } = doorstep.target;
  const { laid } = gentlest;
  const up = Math.sign(garageFloorFt - laid.entry.elevFt);
  const riseFt = Math.abs(garageFloorFt - laid.entry.elevFt);
  let climbFt = 0;
  let tooFarFt = riseFt;
  let kept: LaidLane | null = null;
  while (tooFarFt - climbFt > CLOSE_FT) {
    const middle = (climbFt + tooFarFt) / 2;
    const tried = relayLane(lot, doorstep, laid, rules, laid.entry.elevFt + up * middle);
    if (tried) {
      climbFt = middle;
      kept = tried;
    } else tooFarFt = middle;
  }
  const tried = trial("other-floor", kept, maxGradePct);
  if (!kept) return { words: [`A run of at least ${ft(shortestRunFt(riseFt, maxGradePct))} in all.`], tried };
  const floorFt = laid.entry.elevFt + up * climbFt;
  return {
    words: [
      `A garage floor ${ft(riseFt - climbFt)} ${up > 0 ? "lower" : "higher"}, at ${measure(floorFt, "ft", 0.1)}: tried, a lane ${ft(lengthOf(kept))} long then keeps to ${maxGradePct} %.`,
      `A run about ${ft((riseFt - climbFt) / rules.limit)} longer, by another way round the lot.`,
    ],
    tried,
  };
}

/** Tried already: the gentlest lane is one within the limit, if such ends allow it. */
function evenEnds(lot: LotLanes, gentlest: Gentlest | null): Help {
  const { maxGradePct } = lot.site.request.rules.driveway;
  const even = gentlest && gentlest.gradePct <= maxGradePct ? gentlest.laid : null;
  return {
    words: even
      ? [
          `A lane as steep at the street and before the door as in between: tried, ${ft(lengthOf(even))} long it keeps to ${maxGradePct} %; low cars may scrape, and the city may ask for milder ends.`,
        ]
      : [],
    tried: trial("even-ends", even, maxGradePct),
  };
}

function tighterTurns(lot: LotLanes, doorstep: Doorstep): Help {
  const { maxGradePct, minInsideRadiusFt } = lot.site.request.rules.driveway;
  if (minInsideRadiusFt <= TIGHT_RADIUS_FT) return { words: [], tried: null };
  const rules = driveRules(lot.site.request);
  const tight = { ...rules, radiusFt: TIGHT_RADIUS_FT + rules.widthFt / 2 };
  const laid = layLane(lot, doorstep, tight, "trial");
  return {
    words: laid
      ? [
          `Turns of ${ft(TIGHT_RADIUS_FT)} inside radius: tried, a lane for cars alone ${ft(lengthOf(laid))} long then keeps to ${maxGradePct} %.`,
        ]
      : [],
    tried: trial("tighter-turns", laid, maxGradePct),
  };
}

/** The same rules over the neighbours' ground, as far as the survey shows it. */
function easement(lot: LotLanes, { target }: Doorstep): Help {
  const beyond = lot.beyond();
  if (!beyond)
    return {
      words: [
        "A way over a neighbor's ground, with an easement, could not be tried: the survey shows none of it.",
      ],
      tried: null,
    };
  const { maxGradePct } = lot.site.request.rules.driveway;
  const { boundary } = lot.site.survey;
  const laid = layLane(beyond, doorstepOf(beyond, target), driveRules(lot.site.request), "trial");
  const off = laid?.stations.filter(({ at }) => !ringContains(boundary, at)).length ?? 0;
  const offLotFt = laid ? (lengthOf(laid) * off) / laid.stations.length : 0;
  const words = laid
    ? `A way over a neighbor's ground, with an easement: tried on the ground the survey shows beyond the lot, a lane ${ft(lengthOf(laid))} long, about ${measure(offLotFt, "ft", 5)} of it off the lot, keeps to ${maxGradePct} %. What stands there was not looked at, and the neighbour must grant it.`
    : "A way over a neighbor's ground, with an easement: tried on the ground the survey shows beyond the lot, no lane within the limit was found there either.";
  return { words: [words], tried: trial("easement", laid, maxGradePct, offLotFt) };
}

function atTheStreet({ reach }: LotLanes, { target }: Doorstep): Help {
  const riseFt = Math.abs(target.garageFloorFt - reach.entryElevFt);
  return {
    words: [
      `A garage or parking at the street, with about ${Math.ceil(riseFt / RISER_FT)} steps to the level of this garage floor, or a lift.`,
    ],
    tried: null,
  };
}
