/** Ground under roofs. */
import { areaFt2 } from "../geometry/plane.js";
import type { SchemeDesign } from "./scheme.js";

/** Plan area of the house and of a garage that stands apart, ft²; an attached garage is part of the footprint. */
export function roofedFt2({
  footprint,
  garage,
  levels,
}: Pick<SchemeDesign, "footprint" | "garage" | "levels">): number {
  const apart = garage === "detached" ? levels.filter(({ role }) => role === "garage") : [];
  return areaFt2([[footprint], ...apart.map(({ ring }) => [ring])]);
}
