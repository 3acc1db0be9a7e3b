/** Map projections, by proj4: loaded when the first survey names a coordinate system, for most name none and the library is large. */
import type { Converter, default as Proj4 } from "proj4";

/** The library once it is loaded, as the cache of modules would hold it: it depends on no study and changes no number. */
let library: typeof Proj4 | null = null;

export async function loadProjections(): Promise<void> {
  library ??= (await import("proj4")).default;
}

/** From one proj4 definition to another. Throws before `loadProjections`. */
export function projection(from: string, to: string): Converter {
  if (!library) throw new RangeError("projections are not loaded");
  return library(from, to);
}
