/** Pads the caller drew: computed exactly as given, nothing searched. */

import {
  balanceEarth,
  type GradedSurface,
  gradedGround,
  gradeSurface,
  padWalls,
  prepareFootprint,
  volumeSigmaFt3,
} from "../earthwork/index.js";
import { flatten } from "../geometry/convex-clip.js";
import { type Point, type Ring, signedAreaFt2 } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import type { FixedPad } from "../request/request.js";
import { toLocal } from "../survey/survey.js";
import { toYd3 } from "../units.js";
import { Ground } from "./contained.js";
import { slopeUnder, straddleOf } from "./design.js";
import { rotationDeg } from "./design-core.js";
import { higherThanTerraced } from "./exact-problems.js";
import { wallsUsd } from "./exact-trial.js";
import { FLOOR_OVER_GRADE_FT, type Judge } from "./model.js";
import { slopeTerraceWords } from "./problem-words.js";
import type { SchemeDesign, SchemeProblem } from "./scheme.js";
import { earthUsd } from "./site-cost.js";

/** Share of a pad that may lack surveyed ground by rounding. */
const WHOLE_SHARE = 1 - 1e-6;
const DOWNHILL_ARM_FT = 20;
const WALL_ROUNDING_FT = 0.01;

/**
 * One scheme for each pad of the brief: its ring moved to local feet, its level in feet as given, sides vertical or sloped at the
 * request's batters with rounded corners, sloped ground stopped at the lot line. `bankCutYd3` and `compactedFillYd3`
 * are the volumes between natural ground and that surface, the pad included; nothing is added for aprons or topsoil.
 * Where the pad reaches beyond the surveyed ground the volumes cover the surveyed part, and a problem says so.
 */
export function fixedPad(pad: FixedPad, site: Site, judge: Judge): SchemeDesign {
  const { request, survey, terrain, lot } = site;
  const { rules, soil, haul, brief } = request;
  const levelFt = pad.elevationFt;
  const given = pad.ring.map((corner): Point => toLocal(survey.frame, corner));
  const ring: Ring = signedAreaFt2(given) < 0 ? given.reverse() : given;
  const surface = gradeSurface(terrain.tin, {
    pads: [{ ring, levelFt, sides: pad.sides === "vertical" ? "wall" : "batter" }],
    cutBatter: rules.cutBatter,
    fillBatter: rules.fillBatter,
    limit: survey.boundary,
  });
  const centre = middleOf(ring);
  const [dx, dy] = judge.ground.downhillAt(centre, DOWNHILL_ARM_FT);
  const steepness = Math.hypot(dx, dy);
  const downhill: Point = steepness > 0 ? [dx / steepness, dy / steepness] : [1, 0];
  const walls =
    pad.sides === "vertical"
      ? padWalls(terrain.tin, [{ ring, levelFt, sides: "wall" }], downhill).filter((w) => w.retainedFt > 0)
      : [];
  const footprint = prepareFootprint(terrain.tin, ring);
  const problems = problemsOf(
    ring,
    surface,
    footprint.coveredFt2 / footprint.areaFt2,
    walls,
    site,
    new Ground(lot.buildablePolygons),
  );
  const floorFt = levelFt + FLOOR_OVER_GRADE_FT;
  return {
    id: `fixed-pad-${pad.name}`,
    name: pad.name,
    kind: "fixed-pad",
    feasible: problems.length === 0,
    problems,
    levels: [
      {
        name: "main",
        role: "house",
        ring,
        elevationFt: levelFt,
        floorElevationFt: floorFt,
        rotationDeg: rotationDeg(longestEdgeRad(ring)),
      },
    ],
    footprint: ring,
    outline: ring,
    footprintShape: "as given",
    floorAreaFt2: brief.floorAreaFt2,
    garageAt: nearestToStreet(ring, judge) ?? centre,
    garageFloorFt: floorFt,
    garage: brief.garageCars === 0 ? "none" : "attached",
    downhill,
    earthwork: {
      ...balanceEarth(
        {
          bankCutFt3: surface.cutFt3,
          compactedFillFt3: surface.fillFt3,
        },
        soil,
        haul,
      ),
      maxCutFt: surface.maxCutFt,
      meanCutFt: surface.cutFt2 > 0 ? surface.cutFt3 / surface.cutFt2 : 0,
      maxFillFt: surface.maxFillFt,
      disturbedFt2: surface.disturbedFt2,
      uncertaintyYd3: toYd3(
        volumeSigmaFt3(footprint.areaFt2, terrain.groundSigmaFt, survey.summary.medianSpacingFt),
      ),
      digYd3: 0,
      backfillYd3: 0,
      stockpileFt2: 0,
      temporaryCutFt: 0,
      temporaryReachFt: 0,
      temporaryLeavesLot: false,
      leavesLot: surface.leavesLimit,
      topsoilYd3: toYd3(rules.topsoilFt * surface.disturbedFt2),
    },
    graded: gradedGround(surface),
    walls,
    temporary: null,
    straddle: straddleOf([{ under: footprint, levelFt }]),
    slopeUnderHousePct: slopeUnder(footprint, site),
    overexcavationYd3: 0,
    keyBenchYd3: 0,
    objectiveUsd:
      earthUsd({ ...surface, keyFt: 0, benchedFt2: 0 }, judge.prices) + wallsUsd(walls, judge.prices),
    search: null,
    curves: null,
  };
}

function problemsOf(
  ring: Ring,
  surface: GradedSurface,
  coveredShare: number,
  walls: readonly { readonly retainedFt: number }[],
  { request, lot, survey }: Site,
  buildable: Ground,
): SchemeProblem[] {
  const problems: SchemeProblem[] = [];
  const flat = flatten(ring);
  if (!(coveredShare >= WHOLE_SHARE))
    problems.push({
      code: "unsurveyed",
      message: `The survey shows the ground under ${Math.round(100 * (coveredShare || 0))} % of the pad; volumes cover that part only.`,
    });
  else if (surface.leavesSurvey)
    problems.push({
      code: "unsurveyed",
      message:
        "The slopes beside the pad run beyond the surveyed ground; volumes cover the surveyed part only.",
    });
  if (!new Ground([[survey.boundary]]).holds(flat))
    problems.push({ code: "outside-lot", message: "The pad crosses the lot line." });
  else if (!new Ground(lot.insideSetbacks).holds(flat))
    problems.push({ code: "setback", message: "The pad reaches into a setback." });
  else if (!buildable.holds(flat))
    problems.push({
      code: "buildable",
      message:
        "Part of the pad lies on ground that the rules given leave out: too steep, protected, not surveyed or too narrow.",
    });
  if (surface.leavesLimit)
    problems.push({
      code: "batter-leaves-lot",
      message: "A graded slope would cross the lot line; it is stopped there.",
    });
  const slopeFt = higherThanTerraced(surface, request.rules);
  if (slopeFt > 0) problems.push({ code: "slope-terrace", message: slopeTerraceWords(slopeFt) });
  const tallest = Math.max(0, ...walls.map((w) => w.retainedFt));
  if (tallest > request.rules.maxSiteWallFt + WALL_ROUNDING_FT)
    problems.push({
      code: "site-wall",
      message: `Its vertical sides would hold up to ${measure(tallest, "ft", 0.1)}; the rule given allows ${measure(request.rules.maxSiteWallFt, "ft", 0.1)}.`,
    });
  return problems;
}

function middleOf(ring: Ring): Point {
  const twice = 2 * signedAreaFt2(ring);
  const [x0, y0] = ring[0]!;
  let sx = 0;
  let sy = 0;
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const cross = (ax - x0) * (by - y0) - (bx - x0) * (ay - y0);
    sx += (ax + bx - 2 * x0) * cross;
    sy += (ay + by - 2 * y0) * cross;
  });
  return [x0 + sx / (3 * twice), y0 + sy / (3 * twice)];
}

function longestEdgeRad(ring: Ring): number {
  let longest = 0;
  let angle = 0;
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const length = Math.hypot(bx - ax, by - ay);
    if (length > longest) {
      longest = length;
      angle = Math.atan2(by - ay, bx - ax);
    }
  });
  return angle;
}

/** Middle of the edge a car comes to first; null where no way is known. */
function nearestToStreet(ring: Ring, { drive }: Judge): Point | null {
  let best: Point | null = null;
  let least = Infinity;
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const middle: Point = [(ax + bx) / 2, (ay + by) / 2];
    const distance = drive.known ? drive.distanceAt(middle) : NaN;
    if (distance < least) {
      least = distance;
      best = middle;
    }
  });
  return best;
}
