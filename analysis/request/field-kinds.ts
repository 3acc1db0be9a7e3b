/** Kinds of field that several parts of the request share, and how one is refused. */
import { z } from "zod";

/** Refuses a value at the field it stands in, with what to do about it. */
export function refuse(
  ctx: z.RefinementCtx,
  path: (string | number)[],
  message: string,
  remedy: string,
): void {
  ctx.addIssue({ code: "custom", path, message, params: { remedy } });
}

export const finite = z.number();
export const positive = z.number().positive();
export const nonNegative = z.number().min(0);
export const xy = z.tuple([finite, finite]);
export const ring = z.array(xy).min(3);
export const lengthUnit = z.enum(["us-ft", "ft", "m"]);
export const yesNoUnknown = z.enum(["yes", "no", "unknown"]);
