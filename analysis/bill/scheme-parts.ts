/** What a bill is made from. */
import type { Access } from "../access/access.js";
import type { Drainage } from "../drainage/drainage.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import type { Structure } from "../structure/structure.js";
import type { QuantityLine } from "./bill.js";

export interface SchemeParts {
  readonly design: SchemeDesign;
  readonly access: Access;
  readonly drainage: Drainage;
  readonly structure: Structure;
}

export interface PricedDraft extends SchemeParts {
  readonly quantities: readonly QuantityLine[];
}
