/** Drains, driveway, utilities. */

import { signedAreaFt2 } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import { walkAsDriveFt2 } from "../schemes/index.js";
import type { QuantityLine } from "./bill.js";
import { houseSizes } from "./list-house.js";
import type { SchemeParts } from "./scheme-parts.js";

/** Turning area before the garage where none is drawn: 24 ft before a two-car door, 26 ft wide. Common practice, no source. */
const TURN_FT2 = 24 * 26;
/** From the drive to the meters and from the street main to the line. Judgement, no source. */
const SERVICE_BEYOND_DRIVE_FT = 30;
export const SHORT_SERVICE_FT = 60;
/** Roof above which many local rules ask for detention or treatment of roof and paving; the hill and its flat twin trip it alike. From memory. */
const DETENTION_FROM_ROOF_FT2 = 1500;
/** A floor must lie this much above the sewer to drain into it. Common practice, no source. */
const ABOVE_SEWER_FT = 2;

export function drainLines({ request }: Site, { design, drainage, access }: SchemeParts): QuantityLine[] {
  const pumped = drainage.tiers.filter((t) => !t.gravity);
  const runs = (tiers: readonly { readonly runFt: number }[]) => Math.max(0, ...tiers.map((t) => t.runFt));
  // pumped water is led to the street, along the drive
  const pumpedRunFt = access.reachable ? access.driveway.lengthFt : SHORT_SERVICE_FT;
  const outflow = (tiers: typeof drainage.tiers) =>
    tiers.some((t) => !t.gravity) ? Math.max(pumpedRunFt, runs(tiers)) : runs(tiers);
  const roof = drainage.tiers.filter((t) => t.tier === "roof-and-surface");
  const below = drainage.tiers.filter((t) => t.tier !== "roof-and-surface");
  const swaleFt = drainage.swale?.lengthFt ?? 0;
  return [
    {
      code: "SWALE",
      quantity: swaleFt,
      unit: "ft",
      cause: "drains",
      trace: "drainage.swale.lengthFt, above the house",
    },
    {
      code: "TIGHTLINE",
      quantity: outflow(roof) + outflow(below),
      unit: "ft",
      cause: "drains",
      trace:
        below.length > 0
          ? `roof and surface ${measure(outflow(roof), "ft", 1)}, drains below ground ${measure(outflow(below), "ft", 1)}, in pipes of their own`
          : "roof and surface",
    },
    {
      code: "BASIN",
      quantity: 2 + (swaleFt > 0 ? 1 : 0),
      unit: "each",
      cause: "none",
      trace: "two at the house, one at the foot of the swale",
    },
    {
      code: "OUTLET",
      quantity: Math.max(1, (roof.length ? 1 : 0) + (below.length ? 1 : 0)),
      unit: "each",
      cause: "none",
      trace: "one for roof and surface, one for the drains below ground",
    },
    {
      code: "SUMP",
      quantity: pumped.length > 0 ? 1 : 0,
      unit: "each",
      cause: "none",
      trace: `no way out by gravity: ${pumped.map((t) => t.tier).join(", ")}`,
    },
    detentionLine(houseSizes(design, request.brief.garageCars).roofFt2, drainage.imperviousFt2),
    ...sewageLines(request, Math.min(...design.levels.map((l) => l.floorElevationFt))),
  ];
}

export function detentionLine(roofFt2: number, imperviousFt2: number): QuantityLine {
  return {
    code: "DETAIN",
    quantity: roofFt2 > DETENTION_FROM_ROOF_FT2 ? imperviousFt2 : 0,
    unit: "ft2 of roof and paving",
    cause: "none",
    trace: `roof and paving; many local rules ask it where the roof is over ${measure(DETENTION_FROM_ROOF_FT2, "ft²")}`,
  };
}

function sewageLines({ utilities, brief }: Site["request"], lowestFloorFt: number): QuantityLine[] {
  const { sewer, sewerInvertFt, septic } = utilities;
  if (septic || brief.septic || sewer === "no")
    return [{ code: "SEPTIC", quantity: 1, unit: "each", cause: "none", trace: "no sewer" }];
  if (sewerInvertFt !== null && lowestFloorFt < sewerInvertFt + ABOVE_SEWER_FT)
    return [
      {
        code: "SEWPUMP",
        quantity: 1,
        unit: "each",
        cause: "none",
        trace: `lowest floor ${measure(lowestFloorFt, "ft", 0.1)} is less than ${measure(ABOVE_SEWER_FT, "ft")} above the sewer at ${measure(sewerInvertFt, "ft")}`,
      },
    ];
  return [];
}

export function accessLines({ access, design }: SchemeParts): QuantityLine[] {
  if (!access.reachable) return [];
  const { pavedFt2, turnaround, turnaroundRing, lengthFt, walkFt, stairsRiseFt, stairsCount } =
    access.driveway;
  const turnFt2 = turnaroundRing ? Math.abs(signedAreaFt2(turnaroundRing)) : turnaround ? TURN_FT2 : 0;
  return [
    {
      code: "DRIVE",
      quantity: pavedFt2,
      unit: "ft2",
      cause: "driveway",
      trace: `driveway.pavedFt2, ${measure(lengthFt, "ft", 1)} long`,
    },
    {
      code: "TURN",
      quantity: turnFt2,
      unit: "ft2",
      cause: "driveway",
      trace: "turning area before the garage",
    },
    {
      code: "DRIVE",
      quantity: design.garage === "detached" ? walkAsDriveFt2(walkFt, stairsRiseFt) : 0,
      unit: "ft2",
      cause: "driveway",
      trace: `walk of ${measure(walkFt, "ft", 1)} and ${stairsCount} outside steps from the garage of its own, as paving of the same price`,
    },
  ];
}

export function serviceLines({ survey }: Site, { access, design }: SchemeParts): QuantityLine[] {
  const lengthFt = access.reachable
    ? access.driveway.lengthFt +
      (design.garage === "detached" ? access.driveway.walkFt : 0) +
      SERVICE_BEYOND_DRIVE_FT
    : // no drive: straight from the nearest corner of the lot
      Math.min(
        ...survey.boundary.map(([x, y]) => Math.hypot(x - design.garageAt[0], y - design.garageAt[1])),
      );
  return [
    {
      code: "UTIL",
      quantity: Math.max(SHORT_SERVICE_FT, lengthFt),
      unit: "ft",
      cause: "driveway",
      trace: access.reachable
        ? `along the driveway and ${measure(SERVICE_BEYOND_DRIVE_FT, "ft")} more`
        : "no driveway: straight to the nearest corner of the lot",
    },
  ];
}
