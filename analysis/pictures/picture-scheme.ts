/** Thins one scheme for drawing. */
import type { Access, Driveway } from "../access/access.js";
import type { Wall } from "../earthwork/earthwork.js";
import { listStakes } from "../earthwork/index.js";
import { differenceOf, intersectionOf, openedBy } from "../geometry/clip.js";
import {
  type Box,
  boxOf,
  type Point,
  type Point3,
  type Polygon,
  type Ring,
  signedAreaFt2,
} from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import type { Level, SchemeDesign } from "../schemes/scheme.js";
import { depthSteps } from "./depth-steps.js";
import { cellAt, coarse } from "./ground-samples.js";
import type { PictureScheme } from "./picture-input.js";
import type { SchemePicture } from "./pictures.js";
import { cutSection } from "./section.js";
import { keepIndices, roundPoint, thinLine, thinPolygons, to01 } from "./thin.js";

const DEPTH_CELLS = 48;
/** Tongues of a temporary cut narrower than this are not drawn. */
const SPIKE_FT = 2;
const SMALLEST_PATCH_FT2 = 4;
/** Lines of flow step from cell to cell; the steps mean nothing. */
const FLOW_TOLERANCE_FT = 2.5;

export function drawScheme(site: Site, scheme: PictureScheme, toleranceFt: number): SchemePicture {
  const { design, access, drainage, structure } = scheme;
  const thin = (polygons: Parameters<typeof thinPolygons>[0]) =>
    thinPolygons(polygons, toleranceFt, SMALLEST_PATCH_FT2);
  const centre = centreOf(design.footprint);
  const [downEast, downNorth] = design.downhill;
  return {
    id: design.id,
    levels: design.levels.map((level) => ({ ...level, ring: level.ring.map(roundPoint) })),
    footprint: design.footprint.map(roundPoint),
    outline: design.outline.map(roundPoint),
    cut: thin(design.graded.cut),
    fill: thin(design.graded.fill),
    depth: coarse(design.graded.depth, gradedBox(design), DEPTH_CELLS, cellAt),
    depthSteps: depthSteps(design.graded.depth, toleranceFt),
    walls: design.walls.map(thinWall),
    temporary:
      thin(openedBy(design.temporary ? [design.temporary.outline.slice(0, 1)] : [], SPIKE_FT))[0]?.slice(
        0,
        1,
      ) ?? null,
    drive: access.reachable
      ? drawDrive(access.driveway, { lot: site.survey.boundary, levels: design.levels, toleranceFt })
      : null,
    garageAt: roundPoint(design.garageAt),
    catchment: thin(drainage.catchment),
    swale: thinLine(drainage.swale?.line ?? [], toleranceFt).map(roundPoint),
    drains: drainage.tiers.map(({ tier, route, gravity }) => ({
      tier,
      route: thinLine(route, toleranceFt).map(roundPoint),
      gravity,
    })),
    overflow: thinLine(drainage.overflow?.line ?? [], Math.max(toleranceFt, FLOW_TOLERANCE_FT)).map(
      roundPoint,
    ),
    crossings: drainage.crossings.map(({ at }) => roundPoint(at)),
    piers: structure.foundation.pierAt.map(roundPoint),
    wells: (structure.basement?.wells ?? []).map((well) => ({ ...well, at: roundPoint(well.at) })),
    stakes: listStakes(site, design).map((stake) => ({ ...stake, at: roundPoint(stake.at) })),
    along: cutSection(site, scheme, centre, design.downhill),
    // To the right as seen by somebody who stands below the house and looks up the hill.
    across: cutSection(site, scheme, centre, [-downNorth, downEast]),
  };
}

/** The band ends where the house begins and at the lot line: a buffered line has round ends that reach into both. */
function drawDrive(
  drive: Extract<Access, { reachable: true }>["driveway"],
  { lot, levels, toleranceFt }: { lot: Ring; levels: readonly Level[]; toleranceFt: number },
): NonNullable<SchemePicture["drive"]> {
  const house = levels.map(({ ring }): Polygon => [ring]);
  const band = differenceOf(intersectionOf(drive.footprint, [[lot]]), house);
  const line = thinLine(drive.line, toleranceFt).map(([x, y, z]): Point3 => [to01(x), to01(y), to01(z)]);
  const { profile } = drive;
  const off = (key: "groundFt" | "gradeFt") => (i: number, a: number, b: number) => {
    const share =
      (profile[i]!.stationFt - profile[a]!.stationFt) / (profile[b]!.stationFt - profile[a]!.stationFt || 1);
    return Math.abs(profile[i]![key] - profile[a]![key] - (profile[b]![key] - profile[a]![key]) * share);
  };
  const ground = off("groundFt");
  const grade = off("gradeFt");
  const kept = keepIndices(profile.length, (i, a, b) => Math.max(ground(i, a, b), grade(i, a, b)), 0.03);
  return {
    line,
    footprint: thinPolygons(band, toleranceFt, SMALLEST_PATCH_FT2),
    turnaround: drive.turnaroundRing?.map(roundPoint) ?? null,
    tooTight: tooTight(drive),
    profile: kept.map((i) => {
      const { stationFt, groundFt, gradeFt } = profile[i]!;
      return { stationFt: to01(stationFt), groundFt: to01(groundFt), gradeFt: to01(gradeFt) };
    }),
  };
}

/** Truck and engine may stick at the same curve: one mark says it. */
function tooTight({ heavyVehicle, fireEngine }: Driveway): Point[] {
  const places = [heavyVehicle.failsAt, fireEngine.failsAt].filter((at) => at !== null).map(roundPoint);
  return places.filter(([x, y], i) =>
    places.slice(0, i).every(([px, py]) => Math.hypot(px - x, py - y) > SAME_PLACE_FT),
  );
}

const SAME_PLACE_FT = 6;

function thinWall(wall: Wall): Wall {
  return { ...wall, line: wall.line.map(roundPoint), heightsFt: wall.heightsFt.map(to01) };
}

/** Everything graded, or the outline alone where nothing is. */
function gradedBox({ graded, outline }: SchemeDesign): Box {
  const rings: Point[] = [...outline];
  for (const polygon of [...graded.cut, ...graded.fill]) rings.push(...(polygon[0] ?? []));
  return boxOf(rings);
}

/** Centre of mass of a ring, its middle vertex when it has no area. */
function centreOf(ring: Ring): Point {
  const areaFt2 = signedAreaFt2(ring);
  const [x0, y0] = ring[0] ?? [0, 0];
  if (areaFt2 === 0) return [x0, y0];
  let x = 0;
  let y = 0;
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const twice = (ax - x0) * (by - y0) - (bx - x0) * (ay - y0);
    x += (ax + bx - 2 * x0) * twice;
    y += (ay + by - 2 * y0) * twice;
  }
  return [x0 + x / (6 * areaFt2), y0 + y / (6 * areaFt2)];
}
