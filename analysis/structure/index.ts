/** What holds the house up and the hill back: a first look. */

import type { Access } from "../access/access.js";
import type { Assumption } from "../assumptions.js";
import type { Drainage } from "../drainage/drainage.js";
import type { Site } from "../lot/site.js";
import { published } from "../measure.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import { basementOf } from "./basement.js";
import { allowedFloorAreaFt2, coveragePct, heightAboveGroundFt, railingFt } from "./bulk.js";
import { cautionsFor } from "./cautions.js";
import { chooseFoundation } from "./choose-foundation.js";
import { foundationOf, LOAD_YD3, UNKNOWN_DEPTH_FT } from "./foundation.js";
import { BEAM_LINES_FT, PIER_SPACING_FT } from "./pier-layout.js";
import { septicRoom } from "./septic.js";
import { slopeSetbacks } from "./slope-setbacks.js";
import type { Structure } from "./structure.js";

export type * from "./structure.js";

/** Heights within this of the limit are at it: no survey tells them apart. */
const HEIGHT_ROUNDING_FT = 0.05;

export function chooseStructure(
  site: Site,
  design: SchemeDesign,
  access: Access,
  drainage: Drainage,
): Structure {
  const setbacks = slopeSetbacks(site, design);
  const basement = basementOf(site, design);
  const foundation = foundationOf(site, design, access, chooseFoundation(site, design, setbacks), basement);
  const heightFt = heightAboveGroundFt(site, design);
  const { heightLimitFt } = site.request.rules;
  return {
    foundation,
    basement,
    slopeSetbacks: setbacks,
    heightAboveGroundFt: heightFt,
    heightLimitFt,
    heightOk: heightFt <= heightLimitFt + HEIGHT_ROUNDING_FT,
    allowedFloorAreaFt2: allowedFloorAreaFt2(site),
    coveragePct: coveragePct(site, design),
    railingFt: railingFt(design),
    septic: septicRoom(site, design),
    cautions: cautionsFor(site, { design, access, drainage, foundation, basement }),
  };
}

const TRADE = "common practice, no source";

export const assumptions: readonly Assumption[] = [
  { name: "Grade beam lines at most apart", value: BEAM_LINES_FT, unit: "ft", origin: TRADE },
  { name: "Piers at most apart along a beam", value: PIER_SPACING_FT, unit: "ft", origin: TRADE },
  {
    name: "Pier depth where firm ground is unknown, low / likely / high",
    value: UNKNOWN_DEPTH_FT.join(" / "),
    unit: "ft",
    origin: TRADE,
    changeWith: "soil.depthToFirmFt",
  },
  { name: "Concrete on a truck", value: LOAD_YD3, unit: "yd³", origin: TRADE },
  {
    name: "Bedroom way out",
    value: `${published(5.7, "ft²")} clear, ${published(24, "in")} high, ${published(20, "in")} wide, sill up to ${published(44, "in")}; well ${published(9, "ft²")}, ${published(36, "in")} out, ladder over ${published(44, "in")}`,
    unit: "",
    origin: "IRC R310",
  },
  {
    name: "Setback from ground steeper than 1 in 3",
    value: `half its height up to ${published(15, "ft")} below it; a third up to ${published(40, "ft")} above it`,
    unit: "",
    origin: "IRC R403.1.7, from memory",
  },
];
