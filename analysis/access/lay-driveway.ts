/** The way from the street to a garage, or why there is none. Method: docs/methods/access.md */
import { stripAlong, unionOf } from "../geometry/clip.js";
import type { MultiPolygon } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { elevationAt } from "../terrain/index.js";
import { toYd3 } from "../units.js";
import type { Access, Driveway, Reach } from "./access.js";
import { centreLimit, type DriveRules, driveRules } from "./drive-rules.js";
import type { DriveTarget } from "./drive-target.js";
import { type EarthMoved, LaneEarth } from "./lane-earth.js";
import type { Station } from "./lane-path.js";
import { type Doorstep, doorstepOf, type LaidLane, layLane } from "./lay-lane.js";
import { LotLanes } from "./lot-lanes.js";
import { stairsTo } from "./stairs.js";
import { CentreLine } from "./swept-path.js";
import { findTurnaround, type Turnaround } from "./turnaround.js";
import { judgeCar, judgeFireEngine, judgeTruck, type LaneFacts, needsTurnaround } from "./vehicles.js";
import { noEntry, type Refusal, whyNot } from "./why-not.js";

/** Lane, heights, earth and walls from the street to the scheme's garage within the request's driveway rules; where none is found, the gentlest grade one would have, where it pinches and what helps. */
export function layDriveway(site: Site, reach: Reach, target: DriveTarget): Access {
  const drives = new Drives(site, reach);
  const drive = drives.to(target);
  return drive ? { reachable: true, driveway: drive.driveway() } : drives.whyNot(target);
}

/** A lane laid, whose earth, pavement and vehicles are looked at when they are asked for. */
export interface Drive {
  readonly hasWallOver: (heightFt: number) => boolean;
  readonly driveway: () => Driveway;
}

/** Ways to the garages of one lot's schemes, which share what a search can. */
export class Drives {
  readonly #site: Site;
  readonly #rules: DriveRules;
  readonly #lot: LotLanes | null;

  constructor(site: Site, reach: Reach) {
    this.#site = site;
    this.#rules = driveRules(site.request);
    this.#lot = reach.entries.length > 0 ? new LotLanes(site, reach, this.#rules) : null;
  }

  /** As `layDriveway`; null where none is found. */
  to(target: DriveTarget): Drive | null {
    if (!this.#lot) return null;
    const doorstep = doorstepOf(this.#lot, target);
    const laid = layLane(this.#lot, doorstep, this.#rules);
    if (!laid) return null;
    const earth = new LaneEarth(this.#site, target, laid, this.#rules);
    return {
      hasWallOver: (heightFt) => earth.hasWallOver(heightFt),
      driveway: () => driveway(this.#site, doorstep, laid, earth.moved(), this.#rules),
    };
  }

  /** Of a target to which no drive is found. */
  whyNot(target: DriveTarget): Refusal {
    return this.#lot ? whyNot(this.#lot, doorstepOf(this.#lot, target)) : noEntry(this.#site);
  }
}

function driveway(
  site: Site,
  { target, ground }: Doorstep,
  laid: LaidLane,
  earth: EarthMoved,
  rules: DriveRules,
): Driveway {
  const { stations, gradeFt, groundFt, radiiFt, entry } = laid;
  const { widthFt } = rules;
  const lengthFt = stations.at(-1)!.stationFt;
  const turning = needsTurnaround(lengthFt);
  const turnaround = turning.useful
    ? findTurnaround(stations, gradeFt, ground, rules, site.survey.boundary)
    : null;
  const steepest = steepestOf(laid, rules);
  const tightest = Math.min(...radiiFt);
  const facts: LaneFacts = {
    lengthFt,
    maxGradePct: steepest.pct,
    widthFt,
    centreLine: new CentreLine(laid.path),
    stations,
    fallsToGarage: gradeFt.at(-1)! < gradeFt.at(-2)!,
    turning: { ...turning, found: turnaround !== null },
  };
  return {
    lengthFt,
    maxGradePct: steepest.pct,
    meanGradePct: (100 * Math.abs(target.garageFloorFt - entry.elevFt)) / lengthFt,
    line: stations.map(({ at }, i) => [at[0], at[1], gradeFt[i]!]),
    bankCutYd3: toYd3(earth.endAreaCutFt3 + (turnaround?.cutFt3 ?? 0)),
    compactedFillYd3: toYd3(earth.endAreaFillFt3 + (turnaround?.fillFt3 ?? 0)),
    prismoidalCutYd3: toYd3(earth.prismoidalCutFt3 + (turnaround?.cutFt3 ?? 0)),
    prismoidalFillYd3: toYd3(earth.prismoidalFillFt3 + (turnaround?.fillFt3 ?? 0)),
    turnaround: turnaround !== null,
    turnaroundRequired: turning.required,
    turnaroundRing: turnaround?.ring ?? null,
    widthFt,
    pavedFt2: lengthFt * widthFt,
    wallFaceFt2: earth.wallFaceFt2,
    wallMaxFt: earth.wallMaxFt,
    profile: stations.map(({ stationFt, at }, i) => {
      const natural = elevationAt(site.terrain.tin, at[0], at[1]);
      return {
        stationFt,
        groundFt: Number.isNaN(natural) ? groundFt[i]! : natural,
        gradeFt: gradeFt[i]!,
      };
    }),
    garageFloorFt: target.garageFloorFt,
    garageAt: target.garageAt,
    footprint: paved(stations, widthFt, turnaround),
    insideRadiusFt: tightest === Infinity ? null : tightest - widthFt / 2,
    steepestAt: stations[steepest.station]!.at,
    car: judgeCar(facts, site.request),
    heavyVehicle: judgeTruck(facts),
    fireEngine: judgeFireEngine(facts),
    ...stairsTo(target),
  };
}

/** Grade at the steepest place on the pavement, inside edges of curves included, and the station before it. */
function steepestOf(
  { radiiFt, gradeFt, profileRules }: LaidLane,
  { widthFt }: DriveRules,
): { pct: number; station: number } {
  let pct = 0;
  let station = 0;
  radiiFt.forEach((radius, i) => {
    const inside =
      (100 * Math.abs(gradeFt[i + 1]! - gradeFt[i]!)) / profileRules.stepFt / centreLimit(1, radius, widthFt);
    if (inside <= pct) return;
    pct = inside;
    station = i;
  });
  return { pct, station };
}

function paved(stations: readonly Station[], widthFt: number, turnaround: Turnaround | null): MultiPolygon {
  const lane = stripAlong(
    stations.map(({ at }) => at),
    widthFt / 2,
  );
  return turnaround ? unionOf([...lane.flat(), turnaround.ring]) : lane;
}
