/** A floor in the ground: which walls hold earth, how much, and how people get out. */

import { type Point, polygonsContain } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { published } from "../measure.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import { edgesOf, groundAt, levelsOf, type RingEdge, ringsAreaFt2 } from "./house-facts.js";
import { type WallSample, waysOut } from "./light-wells.js";
import type { Basement } from "./structure.js";

/** A wall counts as buried where earth stands higher than this over the floor, as open where lower than that. Common practice, no source. */
const BURIED_ABOVE_FT = 1.5;
const OPEN_BELOW_FT = 0.5;
/** Wall and waterproofing go on above the earth. */
const ABOVE_EARTH_FT = 1;
const SAMPLE_FT = 2;
/** Ground is read this far outside the wall, on what will be backfilled to it. */
const OUTSIDE_FT = 2;
/** 29 CFR 1926.652(a)(1) and Appendix B: a protective system from 5 ft, a registered engineer above 20 ft. */
const PROTECT_FROM_FT = 5;
const ENGINEER_ABOVE_FT = 20;

export function basementOf(site: Site, design: SchemeDesign): Basement | null {
  const levels = levelsOf(design, "basement");
  if (levels.length === 0) return null;
  // fill of the garage or a pad may stand higher against the house than the natural ground
  const held = design.walls.filter((wall) => wall.kind === "basement");
  const samples: WallSample[] = [];
  const sides: Basement["sides"][number][] = [];
  for (const level of levels)
    for (const edge of edgesOf(level.ring, design.downhill)) {
      const along = sampleWall(site, design, edge, level.floorElevationFt);
      samples.push(...along);
      sides.push({
        side: edge.side,
        lengthFt: edge.lengthFt,
        buriedFt: along.filter((s) => s.earthFt > BURIED_ABOVE_FT).length * (edge.lengthFt / along.length),
        maxUnbalancedFt: Math.max(
          0,
          ...along.map((s) => s.earthFt),
          ...held.filter((wall) => wall.where === edge.side).map((wall) => wall.retainedFt),
        ),
        profileFt: along.map((s) => Math.max(0, s.earthFt)),
      });
    }
  const sum = (pick: (s: WallSample) => number) =>
    samples.reduce((total, s) => total + pick(s) * s.lengthFt, 0);
  const { brief } = site.request;
  const faceFt2 = Math.max(
    sum((s) => (s.earthFt > OPEN_BELOW_FT ? s.earthFt + ABOVE_EARTH_FT : 0)),
    held.reduce((total, wall) => total + wall.faceFt2 + ABOVE_EARTH_FT * wall.lengthFt, 0),
  );
  const ways = waysOut(samples, brief.basementBedrooms);
  return {
    ...ways,
    buriedWallFt: sum((s) => (s.earthFt > BURIED_ABOVE_FT ? 1 : 0)),
    daylightWallFt: sum((s) => (s.earthFt <= OPEN_BELOW_FT ? 1 : 0)),
    maxRetainedFt: Math.max(0, ...samples.map((s) => s.earthFt), ...held.map((wall) => wall.retainedFt)),
    sides,
    wallFaceFt2: faceFt2,
    waterproofFt2: faceFt2,
    underSlabFt2: ringsAreaFt2(levels),
    shoringFt2: shoringFt2(site, samples),
    protection: protectionWords(design.earthwork.temporaryCutFt),
  };
}

/** Earth against one wall: finished ground outside less the floor inside, so "unbalanced backfill" (IRC R404). */
function sampleWall(site: Site, design: SchemeDesign, edge: RingEdge, floorFt: number): WallSample[] {
  const graded = gradeAround(design);
  const count = Math.max(1, Math.round(edge.lengthFt / SAMPLE_FT));
  const { from, to, outward } = edge;
  return Array.from({ length: count }, (_, i) => {
    const t = (i + 0.5) / count;
    const at: Point = [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
    const outside: Point = [at[0] + OUTSIDE_FT * outward[0], at[1] + OUTSIDE_FT * outward[1]];
    const natural = groundAt(site, outside);
    const ground = graded ?? (Number.isNaN(natural) ? groundAt(site, at) : natural);
    // beyond the survey: as if the earth reached the next floor, the dearest case
    const earthFt = Number.isNaN(ground) ? site.request.rules.floorToFloorFt : ground - floorFt;
    return { at, outward, side: edge.side, earthFt, lengthFt: edge.lengthFt / count };
  });
}

/** A full basement lies under a graded pad: the earth outside stands at the pad. Null where natural ground is kept. */
function gradeAround(design: SchemeDesign): number | null {
  return design.kind === "full-basement" ? (levelsOf(design, "house")[0]?.elevationFt ?? null) : null;
}

/** Face to be braced where the sloped cut would leave the lot: earth over the floor, where its top lies past the line. */
function shoringFt2({ survey, request }: Site, samples: readonly WallSample[]): number {
  const { workingSpaceFt, temporaryBatter } = request.rules;
  let faceFt2 = 0;
  for (const { at, outward, earthFt, lengthFt } of samples) {
    if (earthFt < PROTECT_FROM_FT) continue;
    const reach = workingSpaceFt + temporaryBatter * earthFt;
    const top: Point = [at[0] + reach * outward[0], at[1] + reach * outward[1]];
    if (!polygonsContain([[survey.boundary]], top)) faceFt2 += earthFt * lengthFt;
  }
  return faceFt2;
}

export function protectionWords(cutFt: number): string {
  if (cutFt > ENGINEER_ABOVE_FT)
    return `The open cut would be over ${published(ENGINEER_ABOVE_FT, "ft")} high: a registered engineer must design how it is held (29 CFR 1926.652).`;
  if (cutFt >= PROTECT_FROM_FT)
    return `From ${published(PROTECT_FROM_FT, "ft")} of depth the cut must be sloped back, benched or braced, and a competent person must look at it each day (29 CFR 1926.652).`;
  return `Below ${published(PROTECT_FROM_FT, "ft")} a competent person still decides whether the cut can cave in (29 CFR 1926.652).`;
}
