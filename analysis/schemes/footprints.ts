/** Outlines a house of the asked size could take, each about its own centre: u along the long side, v across it. */

import type { Point } from "../geometry/plane.js";
import { measure } from "../measure.js";
import type { Brief } from "../request/request.js";

/** Room per car side by side, and the depth of a bay. Common practice, no source. */
export const GARAGE_FIRST_CAR_FT = 12;
export const GARAGE_NEXT_CAR_FT = 10;
export const GARAGE_DEPTH_FT = 22;
/** Least depth of a floor on one level that still makes rooms. Common practice, no source. */
export const LEAST_LEVEL_DEPTH_FT = 16;
/** Long side ÷ short side of the rectangles tried; the last lies long and thin along the contour. */
const PROPORTIONS = [1, 1.5, 2, 3] as const;

export interface Rect {
  readonly u0: number;
  readonly v0: number;
  readonly u1: number;
  readonly v1: number;
}

export interface Door {
  readonly at: Point;
  /** Outward, in (u, v). */
  readonly outward: Point;
  readonly part: "house" | "garage";
}

export interface FootprintShape {
  /** In words: "rectangle 48 × 36 ft". */
  readonly name: string;
  /** Shapes of one family are the same house the other way round. */
  readonly family: string;
  readonly house: Rect;
  readonly garage: Rect | null;
  /** Where the car may come in. */
  readonly doors: readonly Door[];
}

export function rectArea({ u0, v0, u1, v1 }: Rect): number {
  return (u1 - u0) * (v1 - v0);
}

export function garageWidthFt(cars: number): number {
  return cars === 0 ? 0 : GARAGE_FIRST_CAR_FT + (cars - 1) * GARAGE_NEXT_CAR_FT;
}

/** Floor area of one level, ft²: the whole house over its levels, times `scale`. */
function levelAreaFt2(brief: Brief, levels: number, scale: number): number {
  return (brief.floorAreaFt2 / levels) * scale;
}

/**
 * House and garage on one level: the given rectangle, or rectangles of several proportions with the garage bay inside
 * at either end, and L shapes with the garage as the short leg. Area = floor area ÷ levels + garage. A bay is as deep as
 * the house: what is behind the cars counts to the floor area. A house that must have all of it beside the garage,
 * because it stands on a floor of its own (`besideBay`), has the garage at one end, no deeper than a car asks for.
 */
export function oneLevelShapes(brief: Brief, levels: number, scale = 1, besideBay = false): FootprintShape[] {
  const bayFt = garageWidthFt(brief.garageCars);
  if (brief.footprint) return eitherEnd(inOneRectangle(brief.footprint, bayFt, scale));
  const houseFt2 = levelAreaFt2(brief, levels, scale);
  const shapes = besideBay
    ? proportionedDepths(houseFt2, LEAST_LEVEL_DEPTH_FT).flatMap((depthFt) =>
        withGarageAtEnd(houseFt2 / depthFt, depthFt, bayFt),
      )
    : proportionedDepths(
        houseFt2 + bayFt * GARAGE_DEPTH_FT,
        bayFt > 0 ? GARAGE_DEPTH_FT : LEAST_LEVEL_DEPTH_FT,
      ).flatMap((depthFt) =>
        eitherEnd(
          inOneRectangle({ widthFt: (houseFt2 + bayFt * GARAGE_DEPTH_FT) / depthFt, depthFt }, bayFt, 1),
        ),
      );
  if (bayFt > 0) shapes.push(...legged(houseFt2, bayFt));
  return shapes.length > 0 ? shapes : [squareHouse(houseFt2, bayFt)];
}

/**
 * House on a level of its own with the garage beside it: at either end, flush with the uphill (low v) or the downhill side.
 * A given rectangle keeps the garage as its end bay.
 */
export function twoPartShapes(
  brief: Brief,
  levels: number,
  leastDepthFt: number,
  scale = 1,
): FootprintShape[] {
  const bayFt = garageWidthFt(brief.garageCars);
  if (brief.footprint) return eitherEnd(inOneRectangle(brief.footprint, bayFt, scale));
  const houseFt2 = levelAreaFt2(brief, levels, scale);
  const depths = proportionedDepths(houseFt2, leastDepthFt);
  if (depths.length === 0) depths.push(Math.min(leastDepthFt, houseFt2 / LEAST_LEVEL_DEPTH_FT));
  return depths.flatMap((depthFt) => withGarageAtEnd(houseFt2 / depthFt, depthFt, bayFt));
}

/** Depths of rectangles of one area, the squarest first, as far as they leave rooms deep enough. */
function proportionedDepths(areaFt2: number, leastFt: number): number[] {
  return PROPORTIONS.map((proportion) => Math.sqrt(areaFt2 / proportion)).filter((d) => d >= leastFt);
}

/** A rectangle with the garage beside it: at either end, flush with its low or its high side. */
function withGarageAtEnd(widthFt: number, depthFt: number, bayFt: number): FootprintShape[] {
  const house = centred(widthFt, depthFt);
  const family = `${rectangleWords(widthFt, depthFt)}${bayFt > 0 ? " with the garage at one end" : ""}`;
  if (bayFt === 0) return [{ name: family, family, house, garage: null, doors: houseDoors(house) }];
  return ([1, -1] as const).flatMap((end) =>
    (["uphill", "downhill"] as const).map((flush): FootprintShape => {
      const [v0, v1] =
        flush === "uphill" ? [house.v0, house.v0 + GARAGE_DEPTH_FT] : [house.v1 - GARAGE_DEPTH_FT, house.v1];
      const garage =
        end > 0
          ? { u0: house.u1, v0, u1: house.u1 + bayFt, v1 }
          : { u0: house.u0 - bayFt, v0, u1: house.u0, v1 };
      return recentred({
        name: `${family}, flush with the ${flush} side`,
        family,
        house,
        garage,
        doors: garageDoors(garage, end > 0 ? "+u" : "-u"),
      });
    }),
  );
}

/** A shape and the same with its garage at the other end. */
function eitherEnd(shape: FootprintShape): FootprintShape[] {
  return shape.garage ? [shape, otherEnd(shape)] : [shape];
}

/** A rectangle whose end bay is the garage, where it is long enough for one. */
function inOneRectangle(
  { widthFt, depthFt }: { readonly widthFt: number; readonly depthFt: number },
  bayFt: number,
  scale: number,
): FootprintShape {
  const long = Math.max(widthFt, depthFt) * Math.sqrt(scale);
  const short = Math.min(widthFt, depthFt) * Math.sqrt(scale);
  const whole = centred(long, short);
  const name = rectangleWords(long, short);
  if (bayFt === 0 || long - bayFt < LEAST_LEVEL_DEPTH_FT)
    return { name, family: name, house: whole, garage: null, doors: houseDoors(whole) };
  const garage = { ...whole, u0: whole.u1 - bayFt };
  return {
    name,
    family: name,
    house: { ...whole, u1: garage.u0 },
    garage,
    doors: garageDoors(garage, "+u"),
  };
}

/** L shapes: a 1.5 : 1 house and the garage in front of one end, four ways round. */
function legged(houseFt2: number, bayFt: number): FootprintShape[] {
  const widthFt = Math.max(Math.sqrt(houseFt2 * 1.5), bayFt);
  const house = centred(widthFt, houseFt2 / widthFt);
  const family = `L of ${rectangleWords(widthFt, houseFt2 / widthFt)} with the garage before one end`;
  return ([1, -1] as const).flatMap((end) =>
    ([1, -1] as const).map((front) => {
      const [u0, u1] = end > 0 ? [house.u1 - bayFt, house.u1] : [house.u0, house.u0 + bayFt];
      const [v0, v1] =
        front > 0 ? [house.v1, house.v1 + GARAGE_DEPTH_FT] : [house.v0 - GARAGE_DEPTH_FT, house.v0];
      const garage = { u0, v0, u1, v1 };
      return recentred({
        name: family,
        family,
        house,
        garage,
        doors: garageDoors(garage, front > 0 ? "+v" : "-v"),
      });
    }),
  );
}

function squareHouse(houseFt2: number, bayFt: number): FootprintShape {
  const side = Math.sqrt(houseFt2 + bayFt * GARAGE_DEPTH_FT);
  return inOneRectangle({ widthFt: side, depthFt: side }, bayFt, 1);
}

function centred(widthFt: number, depthFt: number): Rect {
  return { u0: -widthFt / 2, v0: -depthFt / 2, u1: widthFt / 2, v1: depthFt / 2 };
}

/** The same shape with its garage at the other end. */
function otherEnd(shape: FootprintShape): FootprintShape {
  const flip = (r: Rect): Rect => ({ u0: -r.u1, v0: r.v0, u1: -r.u0, v1: r.v1 });
  return {
    ...shape,
    house: flip(shape.house),
    garage: shape.garage && flip(shape.garage),
    doors: shape.doors.map((d) => ({
      ...d,
      at: [-d.at[0], d.at[1]],
      outward: [-d.outward[0], d.outward[1]],
    })),
  };
}

/** Moved so that the middle of the whole box lies at (0, 0). */
function recentred(shape: FootprintShape): FootprintShape {
  const { u0, v0, u1, v1 } = boxOfShape(shape);
  const du = -(u0 + u1) / 2;
  const dv = -(v0 + v1) / 2;
  const move = (r: Rect): Rect => ({ u0: r.u0 + du, v0: r.v0 + dv, u1: r.u1 + du, v1: r.v1 + dv });
  return {
    ...shape,
    house: move(shape.house),
    garage: shape.garage && move(shape.garage),
    doors: shape.doors.map((d) => ({ ...d, at: [d.at[0] + du, d.at[1] + dv] })),
  };
}

export function boxOfShape({ house, garage }: FootprintShape): Rect {
  return garage ? boxOf([house, garage]) : house;
}

export function boxOf(rects: readonly Rect[]): Rect {
  return {
    u0: Math.min(...rects.map((r) => r.u0)),
    v0: Math.min(...rects.map((r) => r.v0)),
    u1: Math.max(...rects.map((r) => r.u1)),
    v1: Math.max(...rects.map((r) => r.v1)),
  };
}

type Face = "+u" | "-u" | "+v" | "-v";

/** Doors on the three free faces of a garage; `away` is the face opposite the house. */
function garageDoors(r: Rect, away: Face): Door[] {
  const opposite: Record<Face, Face> = { "+u": "-u", "-u": "+u", "+v": "-v", "-v": "+v" };
  return (["+u", "-u", "+v", "-v"] as const)
    .filter((face) => face !== opposite[away])
    .map((face) => door(r, face, "garage"));
}

function houseDoors(r: Rect): Door[] {
  return (["+u", "-u", "+v", "-v"] as const).map((face) => door(r, face, "house"));
}

function door(r: Rect, face: Face, part: Door["part"]): Door {
  const u = (r.u0 + r.u1) / 2;
  const v = (r.v0 + r.v1) / 2;
  switch (face) {
    case "+u":
      return { at: [r.u1, v], outward: [1, 0], part };
    case "-u":
      return { at: [r.u0, v], outward: [-1, 0], part };
    case "+v":
      return { at: [u, r.v1], outward: [0, 1], part };
    case "-v":
      return { at: [u, r.v0], outward: [0, -1], part };
  }
}

export function rectangleWords(widthFt: number, depthFt: number): string {
  return `rectangle ${measure([widthFt, depthFt], "ft", 1, " × ")}`;
}
