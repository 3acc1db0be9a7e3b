/** What a request says of its survey files. */
import { z } from "zod";
import { lengthUnit, positive, refuse, xy } from "./field-kinds.js";

/** No two coordinates in one column. Other things may share one: a description may name its line too. */
function eachItsOwn(
  columns: Readonly<Record<"northing" | "easting", number> & { elevation?: number }>,
  ctx: z.RefinementCtx,
): void {
  const { northing, easting, elevation } = columns;
  const remedy = "Columns are counted from 0: give each of northing, easting and elevation its own.";
  if (easting === northing) refuse(ctx, ["easting"], `column ${easting} is named for northing too`, remedy);
  if (elevation === northing || elevation === easting)
    refuse(ctx, ["elevation"], `column ${elevation} is named for a coordinate too`, remedy);
}

export const survey = z.strictObject({
  unit: lengthUnit.optional(),
  verticalUnit: lengthUnit.optional(),
  crs: z
    .string()
    .regex(/^(local|EPSG:\d{4,6})$/)
    .optional(),
  boundaryCrs: z
    .string()
    .regex(/^(local|EPSG:\d{4,6})$/)
    .optional(),
  columns: z
    .strictObject({
      point: z.int().min(0).optional(),
      northing: z.int().min(0),
      easting: z.int().min(0),
      elevation: z.int().min(0),
      description: z.int().min(0).optional(),
      line: z.int().min(0).optional(),
    })
    .superRefine(eachItsOwn)
    .optional(),
  boundaryColumns: z
    .strictObject({ northing: z.int().min(0), easting: z.int().min(0) })
    .superRefine(eachItsOwn)
    .optional(),
  verticalAccuracyFt: positive.max(50).optional(),
  /** "shots" on open ground, "canopy" or lidar under trees, "contours" traced from a map. */
  source: z.enum(["shots", "canopy", "contours"]).optional(),
  sourceContourIntervalFt: positive.max(100).optional(),
  date: z.iso.date().optional(),
  datum: z.string().max(200).optional(),
  basisOfBearings: z.string().max(200).optional(),
  surveyor: z.string().max(200).optional(),
  codes: z
    .strictObject({
      ground: z.array(z.string()).optional(),
      breakline: z.array(z.string()).optional(),
      tree: z.array(z.string()).optional(),
      structure: z.array(z.string()).optional(),
      utility: z.array(z.string()).optional(),
      ignore: z.array(z.string()).optional(),
    })
    .optional(),
  keepRows: z.array(z.int().min(1)).optional(),
  adjustBoundary: z.enum(["none", "compass"]).optional(),
});

export const calls = z.strictObject({
  start: xy,
  calls: z.string().min(1).max(200_000),
  unit: lengthUnit.optional(),
});
