/** Garage at the house or on its own: where no car reaches the one at the house, or its drive is dear, one apart is tried. */
import { type Access, Drives, type Driveway, type Reach } from "../access/index.js";
import { distanceToRingFt, type Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import type { DesignCore } from "./design-core.js";
import { loadedByDrive } from "./drive-over-walls.js";
import { type FootprintShape, GARAGE_DEPTH_FT, garageWidthFt } from "./footprints.js";
import { walkAsDriveFt2 } from "./garage-apart.js";
import type { Judge } from "./model.js";
import { breachWords } from "./problem-words.js";
import type { ReachedDraft } from "./propose-reachable.js";
import type { GarageChoice, SchemeDesign } from "./scheme.js";
import { balance, type Prices } from "./site-cost.js";
import { GaragesApart } from "./try-garage-apart.js";
import { LOADED_WALL_FACTOR, wallClass } from "./wall-rule.js";

export interface SettledGarage {
  readonly design: SchemeDesign;
  readonly access: Access;
}

/** A drive whose pavement, walls and earth cost less than this is not worth a garage of its own. Judgement. */
export const DEAR_DRIVE_USD = 50_000;
/** Of the ways to build that have a drive, so many of the cheapest are tried with a garage apart as well. Judgement. */
const DEAR_ONES_TRIED = 2;
/** A garage apart must save this much to be chosen: a walk in the rain has a price too. Judgement. */
export const CLEARLY_LESS_USD = 25_000;
/** Heights are told in tenths of a foot: less over a limit would read as kept. */
const SHOWN_FT = 0.05;
/** It has a wall the house does not share. From memory, order of magnitude. */
export const MORE_GARAGE_SHARE = 0.15;

/**
 * Every design with the drive to its garage. Where the request asks for a garage, the street is known, and the one at the
 * house is out of reach or dear to reach, a garage apart is placed, drawn and driven to as well; it is chosen where only it
 * can be reached or where it saves clearly. `garageChoice` says what was tried. A way to build that no car reaches after
 * that has the problem "no-drive"; one whose drive needs a wall over the rule given, "drive-wall".
 */
export function settleGarages(
  site: Site,
  { reach, prices }: { readonly reach: Reach; readonly prices: Prices },
  reached: readonly ReachedDraft[],
  drives = new Drives(site, reach),
): SettledGarage[] {
  const atHouse = ({ draft, access }: ReachedDraft) => ({ design: draft.finished(), access });
  if (reach.entries.length === 0 || !reached.some(({ draft }) => draft.core.garage === "attached"))
    return reached.map((one) => asDriven(site, atHouse(one)));
  const apart = new GaragesApart(site, reach, prices);
  const { judge } = apart;
  const sitesUsd = reached.map(({ draft, access }) =>
    access.reachable ? siteUsd(draft.core, access.driveway, judge, prices) : null,
  );
  const cheapest = sitesUsd
    .filter((usd) => usd !== null)
    .sort((a, b) => a - b)
    .slice(0, DEAR_ONES_TRIED);
  return reached.map((one, i) => {
    const { draft: attached, access } = one;
    const usd = sitesUsd[i]!;
    const isDear =
      access.reachable && pavedUsd(access.driveway, judge) >= DEAR_DRIVE_USD && cheapest.includes(usd!);
    const isSearched = attached.core.garage === "attached" && attached.core.kind !== "fixed-pad";
    if (!isSearched || (access.reachable && !isDear)) return asDriven(site, atHouse(one));
    const draft = apart.candidate(attached, !access.reachable, (usd ?? Infinity) - CLEARLY_LESS_USD);
    const driveway = typeof draft === "string" ? null : drives.to(draft.core)?.driveway();
    const best =
      typeof draft !== "string" && driveway
        ? { draft, driveway, usd: siteUsd(draft.core, driveway, judge, prices) }
        : null;
    const tried: GarageChoice["tried"] = [
      {
        garage: "attached",
        reachable: access.reachable,
        siteUsd: usd,
        because: access.reachable ? driveWords(access.driveway) : access.because,
      },
      {
        garage: "detached",
        reachable: best !== null,
        siteUsd: best?.usd ?? null,
        because: best
          ? apartWords(best.draft.core, best.driveway)
          : typeof draft === "string"
            ? draft
            : drives.whyNot(draft.core).because,
      },
    ];
    const savedUsd = best && usd !== null ? usd - best.usd : null;
    const garageChoice = { tried, savesUsd: savedUsd === null ? null : Math.abs(savedUsd) };
    const chosen =
      best && (savedUsd === null || savedUsd > CLEARLY_LESS_USD)
        ? { design: best.draft.finished(), access: { reachable: true, driveway: best.driveway } as const }
        : atHouse(one);
    return asDriven(site, { design: { ...chosen.design, garageChoice }, access: chosen.access });
  });
}

/** The search only guesses whether a car gets up and what it takes; the drive as laid, or the lack of one, has the last word. */
function asDriven(site: Site, { design, access }: SettledGarage): SettledGarage {
  const { request } = site;
  if (request.brief.garageCars === 0 || design.kind === "fixed-pad") return { design, access };
  const guessed = design.problems.find(({ code }) => code === "no-drive");
  const problems = design.problems.filter(({ code }) => code !== "no-drive");
  const broken = (code: string, measured: number, limit: number) =>
    problems.push({ code, message: breachWords({ code, measured, limit }, request) });
  const limitFt = request.rules.maxSiteWallFt;
  if (!access.reachable && guessed) problems.push(guessed);
  else if (!access.reachable) broken("no-drive", 0, 0);
  else if (access.driveway.wallMaxFt > limitFt + SHOWN_FT)
    broken("drive-wall", access.driveway.wallMaxFt, limitFt);
  const walls = access.reachable ? loadedByDrive(site, design, access.driveway) : design.walls;
  return { design: { ...design, walls, problems, feasible: problems.length === 0 }, access };
}

/** Likely cost of the ground work with the drive as it was laid in place of the one the search guessed. */
function siteUsd(design: DesignCore, driveway: Driveway, judge: Judge, prices: Prices): number {
  const guessed = judge.drive.leastUsd(
    judge.drive.approaches({ eastFt: 0, northFt: 0, turnRad: 0 }, doorOnly(design)),
    { doorFloorFt: () => design.garageFloorFt },
    0,
  );
  const { garageCars } = judge.request.brief;
  const garageUsd =
    design.garage === "detached"
      ? MORE_GARAGE_SHARE * garageWidthFt(garageCars) * GARAGE_DEPTH_FT * (prices.GARAGE ?? 0)
      : walkAsDriveFt2(0, driveway.stairsRiseFt) * judge.prices.driveFt2;
  return (
    design.objectiveUsd -
    (Number.isFinite(guessed) ? guessed : 0) +
    pavedUsd(driveway, judge) +
    driveway.lengthFt * judge.prices.trenchFt +
    garageUsd
  );
}

/** Pavement, earth and walls of a drive. */
function pavedUsd(drive: Driveway, { prices }: Judge): number {
  const { ownFillYd3, importYd3, exportLooseYd3 } = balance(drive.bankCutYd3, drive.compactedFillYd3, prices);
  return (
    drive.pavedFt2 * prices.driveFt2 +
    drive.bankCutYd3 * prices.cutYd3 +
    ownFillYd3 * prices.fillYd3 +
    importYd3 * prices.importYd3 +
    exportLooseYd3 * prices.exportLooseYd3 +
    drive.wallFaceFt2 * prices.wallFaceFt2[wallClass(drive.wallMaxFt)]! * LOADED_WALL_FACTOR
  );
}

/** The door a car comes to, looking out of the wall it is in. */
function doorOnly({ levels, footprint, garageAt }: DesignCore): FootprintShape {
  const rings = levels.filter(({ role }) => role === "garage").map(({ ring }) => ring);
  let outward: Point = [1, 0];
  let least = Infinity;
  for (const ring of rings.length > 0 ? rings : [footprint])
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const off = distanceToRingFt([a, b], garageAt);
      if (!(length > 0) || off >= least) return;
      least = off;
      outward = [(b[1] - a[1]) / length, (a[0] - b[0]) / length];
    });
  const nowhere = { u0: 0, v0: 0, u1: 0, v1: 0 };
  return {
    name: "",
    family: "",
    house: nowhere,
    garage: null,
    doors: [{ at: garageAt, outward, part: "garage" }],
  };
}

function driveWords({ lengthFt, wallMaxFt }: Driveway): string {
  const walls = wallMaxFt > 0.5 ? ` and walls up to ${measure(wallMaxFt, "ft", 0.5)}` : "";
  return `At the house: ${measure(lengthFt, "ft", 1)} of drive${walls}.`;
}

function apartWords(
  { garageFloorFt, levels }: DesignCore,
  { lengthFt, walkFt, stairsCount }: Driveway,
): string {
  const floors = levels
    .filter(({ role }) => role !== "garage")
    .map((l) => l.floorElevationFt - garageFloorFt);
  const nearest = floors.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a));
  const stairs =
    stairsCount > 0 ? ` with ${stairsCount} steps ${nearest > 0 ? "up" : "down"} to the house` : "";
  return `On its own: ${measure(lengthFt, "ft", 1)} of drive, then ${measure(walkFt, "ft", 1)} on foot${stairs}.`;
}
