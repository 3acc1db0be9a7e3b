/** One lane laid out: line, heights and the check that both exist. */
import { distanceToRingFt, type Ring, ringContains } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import type { LaneGround, StreetEntry } from "./access.js";
import {
  APRON_FT,
  BEND_PER_FT,
  centreLimit,
  DEEPEST_FT,
  type DriveRules,
  SHORT_DRIVE_FT,
  THROAT_FT,
} from "./drive-rules.js";
import { type DriveTarget, doorPose, FinishedGround, groundAround } from "./drive-target.js";
import { GroundLook } from "./ground-look.js";
import { type LanePath, lengthFt, type Pose, reversed, type Station, stationsOf } from "./lane-path.js";
import { fitProfile, largestRiseFt, type ProfileRules } from "./lane-profile.js";
import { type FoundLane, LaneSearch } from "./lane-search.js";
import { LineCost } from "./line-cost.js";
import type { LotLanes } from "./lot-lanes.js";
import { straightened } from "./straighten-lane.js";

const STATION_FT = 5;
const MOST_STATIONS = 240;
/**
 * Many headings find short ways on small lots, few headings long ways up steep ones: both are tried, in this order, each
 * with as many places as it may look at. A lot that needs more has no plain way in. Trials of what would help get less.
 */
const SEARCHES = {
  full: [
    { headings: 24, mostPlaces: 4_000 },
    { headings: 16, mostPlaces: 15_000 },
  ],
  trial: [
    { headings: 24, mostPlaces: 4_000 },
    { headings: 16, mostPlaces: 8_000 },
  ],
} as const;

export interface LaidLane {
  readonly found: FoundLane;
  /** From the street to the garage. */
  readonly path: LanePath;
  readonly entry: StreetEntry;
  /** Evenly spaced along the path. */
  readonly stations: readonly Station[];
  /** Of the centre line on each interval between stations. */
  readonly radiiFt: readonly number[];
  readonly groundFt: readonly number[];
  readonly gradeFt: Float64Array;
  readonly profileRules: ProfileRules;
}

/** A scheme's door and the ground before it, looked at once. */
export interface Doorstep {
  readonly target: DriveTarget;
  readonly door: Pose;
  readonly ground: LaneGround;
  /** Finished ground, from the lane grid where the survey stops short. */
  readonly heightFt: (eastFt: number, northFt: number) => number;
}

export function doorstepOf({ site, reach }: LotLanes, target: DriveTarget): Doorstep {
  const ground = groundAround(reach.lanes, target);
  return { target, door: doorPose(target), ground, heightFt: heights(site, ground, target) };
}

/** The lane from the street to a scheme's door within the rules, or null. */
export function layLane(
  lot: LotLanes,
  { target, door, ground, heightFt }: Doorstep,
  rules: DriveRules,
  effort: keyof typeof SEARCHES = "full",
): LaidLane | null {
  const floorFt = target.garageFloorFt;
  const line = new LineCost(ground, lot.reach.lanes, floorFt, rules, lot.bench);
  let laid: LaidLane | null = null;
  const accept = (found: FoundLane): boolean => {
    const tried = profileOf(lot, found, floorFt, heightFt, rules);
    if (tried) laid = tried;
    return tried !== null;
  };
  for (const { headings, mostPlaces } of SEARCHES[effort]) {
    const search = new LaneSearch(lot, ground, door, floorFt, rules, headings);
    const found = search.run((lane) => line.of(lane) !== null && accept(lane), mostPlaces);
    if (!found) continue;
    const pulled = straightened(found, rules, line);
    if (pulled !== found) accept(pulled);
    return laid;
  }
  return null;
}

/** New heights on a line already found, under other rules or to another floor; null where they do not exist. */
export function relayLane(
  lot: LotLanes,
  { heightFt }: Doorstep,
  { found }: LaidLane,
  rules: DriveRules,
  floorFt: number,
): LaidLane | null {
  return profileOf(lot, found, floorFt, heightFt, rules);
}

function heights(site: Site, ground: LaneGround, target: DriveTarget): (x: number, y: number) => number {
  const finished = new FinishedGround(site, target);
  const look = new GroundLook(ground);
  return (x, y) => {
    const z = finished.at(x, y);
    return !Number.isNaN(z) ? z : look.at(x, y) ? look.elevFt : NaN;
  };
}

/** Heights along a found line; null when the rules do not let it climb, or it lies too deep, too high, or too near the lot line. */
function profileOf(
  { site, mayLeave }: LotLanes,
  found: FoundLane,
  floorFt: number,
  height: (x: number, y: number) => number,
  rules: DriveRules,
): LaidLane | null {
  const path = reversed(found.path);
  const total = lengthFt(path);
  const count = Math.max(4, Math.min(MOST_STATIONS, Math.ceil(total / STATION_FT)));
  const stations = stationsOf(path, count);
  const stepFt = total / count;
  const radiiFt = radiiAlong(path, count);
  const limits = Float64Array.from(radiiFt, (radius, i) =>
    gradeLimit((i + 0.5) * stepFt, total, radius, rules),
  );
  const profileRules: ProfileRules = { limits, stepFt, bendPerFt: BEND_PER_FT };
  if (largestRiseFt(profileRules) < Math.abs(floorFt - found.entry.elevFt)) return null;
  if (crossesItself(stations, rules) || (!mayLeave && !hasRoom(site, stations, rules))) return null;
  const groundFt = stations.map(({ at }) => height(at[0], at[1]));
  groundFt[0] = found.entry.elevFt;
  groundFt[count] = floorFt;
  if (groundFt.some((z) => Number.isNaN(z))) return null;
  const gradeFt = fitProfile(groundFt, found.entry.elevFt, floorFt, profileRules);
  if (!gradeFt || groundFt.some((z, i) => Math.abs(z - gradeFt[i]!) > DEEPEST_FT)) return null;
  return { found, path, entry: found.entry, stations, radiiFt, groundFt, gradeFt, profileRules };
}

/** Tightest centre-line radius on each of `count` even intervals; Infinity where the lane runs straight. */
function radiiAlong({ pieces }: LanePath, count: number): number[] {
  const stepFt = lengthFt({ pieces }) / count;
  const radii = new Array<number>(count).fill(Infinity);
  let fromFt = 0;
  for (const { turn, lengthFt: ft, radiusFt } of pieces) {
    const last = Math.min(count - 1, Math.floor((fromFt + ft) / stepFt - ROUNDING));
    if (turn !== 0)
      for (let i = Math.floor(fromFt / stepFt + ROUNDING); i <= last; i++)
        radii[i] = Math.min(radii[i]!, radiusFt);
    fromFt += ft;
  }
  return radii;
}

const ROUNDING = 1e-9;

function gradeLimit(middleFt: number, totalFt: number, radiusFt: number, rules: DriveRules): number {
  const most = centreLimit(rules.limit, radiusFt, rules.widthFt);
  if (totalFt <= SHORT_DRIVE_FT) return Math.min(most, rules.throatGrade);
  if (middleFt > totalFt - APRON_FT) return Math.min(most, rules.apronGrade);
  return middleFt < THROAT_FT ? Math.min(most, rules.throatGrade) : most;
}

/** Bed upon bed: two places of the lane nearer than its width, with more than a turn of it between them. */
function crossesItself(stations: readonly Station[], { radiusFt, halfBedFt }: DriveRules): boolean {
  const apartFt = Math.PI * radiusFt;
  const stepFt = stations[1]!.stationFt;
  const skip = Math.ceil(apartFt / stepFt);
  const near2 = (2 * halfBedFt) ** 2;
  const east = Float64Array.from(stations, ({ at }) => at[0]);
  const north = Float64Array.from(stations, ({ at }) => at[1]);
  for (let i = 0; i + skip < east.length; i++)
    for (let k = i + skip; k < east.length; k++) {
      const dx = east[i]! - east[k]!;
      const dy = north[i]! - north[k]!;
      if (dx * dx + dy * dy < near2) return true;
    }
  return false;
}

/** Pavement on the lot all the way, but for the throat where it crosses to the street. */
function hasRoom(site: Site, stations: readonly Station[], { widthFt, halfBedFt }: DriveRules): boolean {
  const { boundary, accessPoint } = site.survey;
  const [street] = stations;
  const closed = boundary.flatMap((a, i): Ring[] => {
    const b = boundary[(i + 1) % boundary.length]!;
    const open = accessPoint ? distanceToRingFt([a, b], street!.at) < 1e-6 : site.lot.edges[i]!.frontage;
    return open ? [] : [[a, b]];
  });
  return stations.every(({ at, stationFt }) => {
    if (stationFt > halfBedFt && !ringContains(boundary, at)) return false;
    return closed.every((edge) => distanceToRingFt(edge, at) > widthFt / 2 - 0.01);
  });
}
