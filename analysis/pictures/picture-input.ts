/** What pictures are made from. */
import type { Access, Reach } from "../access/access.js";
import type { Drainage } from "../drainage/drainage.js";
import type { Site } from "../lot/site.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import type { Structure } from "../structure/structure.js";
import type { DrawnWater } from "./pictures.js";

/** What the pictures need to know of a scheme. */
export interface PictureScheme {
  readonly design: SchemeDesign;
  readonly access: Access;
  readonly drainage: Drainage;
  readonly structure: Structure;
}

export interface PicturesInput {
  readonly site: Site;
  readonly water: DrawnWater;
  readonly reach: Pick<Reach, "entry">;
  readonly schemes: readonly PictureScheme[];
}
