/** A garage of its own on a small pad, away from the house: where a car reaches it, and people the house from it, for least. */
import type { StreetEntry } from "../access/access.js";
import {
  distanceToRingFt,
  type MultiPolygon,
  type Point,
  polygonsContain,
  type Ring,
} from "../geometry/plane.js";
import { cornersOf } from "./footprint-outline.js";
import { type Door, type FootprintShape, GARAGE_DEPTH_FT, garageWidthFt } from "./footprints.js";
import { tryGraded } from "./graded-trial.js";
import { KeptLayouts } from "./kept-layouts.js";
import { apronsTowards, grown, layOut } from "./layout.js";
import { FLOOR_OVER_GRADE_FT, type Judge, type Model } from "./model.js";
import { levellingUsd } from "./outlook.js";
import { onLot, type Place } from "./place.js";
import type { SitePrices } from "./site-cost.js";
import { RISER_FT } from "./stepped-pad.js";

/** A paved walk, and stairs of the same width. Common practice, no source. */
const WALK_WIDE_FT = 4;
const TREAD_FT = 11 / 12;
/** Price of a square foot of outside stair over one of drive. From memory, order of magnitude. */
export const STAIR_TO_DRIVE = 4;

/** Cosine between the door's outlook and the way to the street. Judgement. */
const LOOKS_AT_STREET = 0.94;

/** What people walk to: floors of the house, each with its outline. */
export interface Entrance {
  readonly ring: Ring;
  readonly floorElevationFt: number;
}

function farFrom({ eastFt, northFt }: Place, { at }: StreetEntry): number {
  return Math.hypot(at[0] - eastFt, at[1] - northFt);
}

/** Walk and outside stairs between two floors as square feet of drive: what they are priced by. */
export function walkAsDriveFt2(walkFt: number, riseFt: number): number {
  const risers = Math.ceil(Math.abs(riseFt) / RISER_FT);
  const stairsFt = Math.max(0, risers - 1) * TREAD_FT;
  return WALK_WIDE_FT * (Math.max(0, walkFt - stairsFt) + STAIR_TO_DRIVE * stairsFt);
}

/** From a garage to the floor of the house that is reached for least: the paved walk and the services beside it. */
function walkUsd(from: Point, floorFt: number, entrances: readonly Entrance[], prices: SitePrices): number {
  return Math.min(
    ...entrances.map(({ ring, floorElevationFt }) => {
      const walkFt = Math.max(0, distanceToRingFt(ring, from) - GARAGE_DEPTH_FT / 2);
      return walkAsDriveFt2(walkFt, floorElevationFt - floorFt) * prices.driveFt2 + walkFt * prices.trenchFt;
    }),
  );
}

/**
 * `keptFree`: ground the house, its slopes and its dig take. With `street` the door looks square at the street, so that a
 * lane needs no turn on the lot.
 */
export function garageApart(
  judge: Judge,
  entrances: readonly Entrance[],
  keptFree: MultiPolygon,
  street: readonly StreetEntry[] | null = null,
): Model {
  const { request, prices } = judge;
  const widthFt = garageWidthFt(request.brief.garageCars);
  const rect = { u0: -widthFt / 2, u1: widthFt / 2, v0: -GARAGE_DEPTH_FT / 2, v1: GARAGE_DEPTH_FT / 2 };
  const door = (at: Point, outward: Point): Door => ({ at, outward, part: "garage" });
  const withDoors = (doors: readonly Door[]): FootprintShape => ({
    name: "garage of its own",
    family: "garage of its own",
    house: rect,
    garage: null,
    doors,
  });
  const doors = [door([0, rect.v1], [0, 1]), door([0, rect.v0], [0, -1])];
  const shapes = street ? doors.map((one) => withDoors([one])) : [withDoors(doors)];
  const looksAtStreet = (place: Place, shape: FootprintShape) => {
    if (!street) return true;
    const [ou, ov] = shape.doors[0]!.outward;
    const near = street.reduce((a, b) => (farFrom(place, b) < farFrom(place, a) ? b : a));
    const [x, y] = onLot({ eastFt: 0, northFt: 0, turnRad: place.turnRad }, [ou, ov]);
    return -(x * near.inward[0] + y * near.inward[1]) >= LOOKS_AT_STREET;
  };
  const layouts = new KeptLayouts();
  const doorFloorFt = (levelFt: number) => levelFt + FLOOR_OVER_GRADE_FT;
  const clear = (place: Place) =>
    [[0, 0] as const, ...cornersOf(rect)].every((corner) => !polygonsContain(keptFree, onLot(place, corner)));
  return {
    kind: "level-pad",
    name: shapes[0]!.name,
    shapes,
    facesDownhill: false,
    outlookUsd: (seen) => {
      const relief = seen.under(rect);
      const { eastFt, northFt } = seen.place;
      return (
        levellingUsd(relief, rect, 1, request.rules.cutBatter, prices) +
        walkUsd([eastFt, northFt], doorFloorFt(relief.meanFt), entrances, prices)
      );
    },
    tryAt: (place, shape, effort, at) =>
      looksAtStreet(place, shape) && clear(place)
        ? tryGraded(
            judge,
            effort,
            {
              place,
              shape,
              layout: layouts.byDownhill(place, shape, judge.ground, (downhill) =>
                layOut([
                  {
                    rect: grown(rect, apronsTowards(request.rules.apronFt, downhill)),
                    offsetFt: 0,
                    part: "garage",
                  },
                ]),
              ),
              stepFt: 0,
              besidesUsd: (_moved, levelFt) =>
                walkUsd([place.eastFt, place.northFt], doorFloorFt(levelFt), entrances, prices),
              check: () => {},
              doorFloorFt,
            },
            at,
          )
        : null,
    levels: ({ levelFt }) => [
      {
        name: "garage",
        role: "garage",
        rect,
        elevationFt: levelFt,
        floorElevationFt: doorFloorFt(levelFt),
      },
    ],
  };
}
