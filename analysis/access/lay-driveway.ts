/** The way from the street to a garage, or why there is none. Method: docs/methods/access.md */
import { prismoidalFt3, sumStationsFt3 } from "../earthwork/index.js";
import { stripAlong, unionOf } from "../geometry/clip.js";
import { type MultiPolygon, ringContains } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { elevationAt } from "../terrain/index.js";
import { toYd3 } from "../units.js";
import type { Access, Driveway, Reach } from "./access.js";
import { centreLimit, type DriveRules, driveRules } from "./drive-rules.js";
import { type DriveTarget, finishedGround } from "./drive-target.js";
import { type Station, stationsOf } from "./lane-path.js";
import { type SectionGround, sectionAt } from "./lane-sections.js";
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

/** A lane laid, whose pavement and vehicles are looked at when they are asked for. */
export interface Drive {
  readonly wallMaxFt: number;
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
    const earth = earthAlong(this.#site, target, laid, this.#rules);
    return {
      wallMaxFt: earth.wallMaxFt,
      driveway: () => driveway(this.#site, doorstep, laid, earth, this.#rules),
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
  earth: LaneEarth,
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

interface LaneEarth {
  readonly endAreaCutFt3: number;
  readonly endAreaFillFt3: number;
  readonly prismoidalCutFt3: number;
  readonly prismoidalFillFt3: number;
  readonly wallFaceFt2: number;
  readonly wallMaxFt: number;
}

/** Cross-sections at every station and half-way between, against the ground as the scheme leaves it. */
function earthAlong(
  site: Site,
  target: DriveTarget,
  { path, gradeFt, profileRules }: LaidLane,
  rules: DriveRules,
): LaneEarth {
  const { stepFt } = profileRules;
  const at = finishedGround(site, target);
  const { boundary } = site.survey;
  const ground: SectionGround = { at, mayGrade: (x, y) => ringContains(boundary, [x, y]) };
  const halves = beforeDoor(stationsOf(path, 2 * (gradeFt.length - 1))).map((station, k) => ({
    stationFt: station.stationFt,
    ...sectionAt(station, (gradeFt[Math.floor(k / 2)]! + gradeFt[Math.ceil(k / 2)]!) / 2, ground, rules),
  }));
  const whole = halves.filter((_, k) => k % 2 === 0);
  const endArea = (of: "cutFt2" | "fillFt2") =>
    sumStationsFt3(whole.map((section) => ({ stationFt: section.stationFt, areaFt2: section[of] })));
  const prismoidal = (of: "cutFt2" | "fillFt2") =>
    whole
      .slice(1)
      .reduce(
        (sum, section, i) => sum + prismoidalFt3(whole[i]![of], halves[2 * i + 1]![of], section[of], stepFt),
        0,
      );
  const walls = whole.map(({ wallsFt: [left, right] }) => left + right);
  return {
    endAreaCutFt3: endArea("cutFt2"),
    endAreaFillFt3: endArea("fillFt2"),
    prismoidalCutFt3: prismoidal("cutFt2"),
    prismoidalFillFt3: prismoidal("fillFt2"),
    wallFaceFt2: walls.slice(1).reduce((sum, wall, i) => sum + (stepFt * (walls[i]! + wall)) / 2, 0),
    wallMaxFt: Math.max(...whole.flatMap(({ wallsFt }) => wallsFt)),
  };
}

/** The last station a hair out of the wall the door is in, where there is ground to be read. */
function beforeDoor(stations: readonly Station[]): Station[] {
  const last = stations.at(-1)!;
  const { at, heading } = last;
  return [
    ...stations.slice(0, -1),
    { ...last, at: [at[0] - OUT_OF_WALL_FT * Math.cos(heading), at[1] - OUT_OF_WALL_FT * Math.sin(heading)] },
  ];
}

const OUT_OF_WALL_FT = 0.01;

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
