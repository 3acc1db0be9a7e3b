/** Fills the defaults of a request and says which values are ours. */
import type { Assumption } from "../assumptions.js";
import type { StudyRequest } from "./request.js";
import type { RequestInput } from "./schema.js";

/** Loose and compacted volume per bank volume by kind of soil: US Army FM 5-434 (2000) soil-conversion factors, from memory. */
const SOIL_FACTORS = {
  "common-earth": { swellPct: 25, shrinkPct: 10 },
  sand: { swellPct: 11, shrinkPct: 5 },
  clay: { swellPct: 43, shrinkPct: 10 },
  rock: { swellPct: 50, shrinkPct: -30 },
} as const;

const TRADE = "common practice, no source";
const MEMORY = "from memory, order of magnitude";

/**
 * Returns the request with every default filled in and the list of values that are defaults,
 * each with the path that changes it. Never throws: the schema has already refused bad values.
 */
export function understandRequest(input: RequestInput): { request: StudyRequest; assumptions: Assumption[] } {
  const assumed: string[] = [];
  const assumptions: Assumption[] = [];
  const note = (path: string, name: string, value: number | string, unit: string, origin: string) => {
    assumed.push(path);
    assumptions.push({ name, value, unit, origin, changeWith: path });
  };
  /** The given value, or the default with a note that it is one. */
  function pick<T extends number | string | boolean>(
    given: T | null | undefined,
    path: string,
    name: string,
    value: T,
    unit: string,
    origin: string,
  ): T {
    if (given !== undefined && given !== null) return given;
    note(
      path,
      name,
      String(value) === value || typeof value === "number" ? value : value ? "yes" : "no",
      unit,
      origin,
    );
    return value;
  }

  const b = input.brief ?? {};
  const r = input.rules ?? {};
  const soilIn = input.soil ?? {};
  const h = input.haul ?? {};
  const c = input.costs ?? {};
  const { regionFactor, finishLevel, book, escalation, ...overrides } = c;

  const floorAreaFt2 = pick(
    b.floorAreaFt2,
    "brief.floorAreaFt2",
    "House floor area",
    3200,
    "ft²",
    "a common custom house, no source",
  );
  const bedrooms = pick(b.bedrooms, "brief.bedrooms", "Bedrooms", 4, "", TRADE);
  const kind = pick(
    soilIn.kind,
    "soil.kind",
    "Kind of soil",
    "common-earth",
    "",
    "nobody has looked at the ground yet",
  );
  const factors = SOIL_FACTORS[kind];
  const army = "US Army FM 5-434 (2000) soil-conversion factors, from memory";
  const setbacksFt = r.setbacksFt ?? { front: 25, side: 10, rear: 20 };
  if (r.setbacksFt === undefined)
    note(
      "rules.setbacksFt",
      "Setbacks front / side / rear",
      "25 / 10 / 20",
      "ft",
      "a guess: the city decides",
    );
  const slopeBandsPct = r.slopeBandsPct ?? [0, 10, 15, 20, 25, 30, 40];
  if (r.slopeBandsPct === undefined)
    note(
      "rules.slopeBandsPct",
      "Slope bands, lower edges",
      slopeBandsPct.join(", "),
      "%",
      "common in hillside ordinances",
    );

  const request: StudyRequest = {
    ref: input.ref ?? null,
    name: input.name?.trim() || "Unnamed lot",
    survey: input.survey ?? {},
    access: {
      frontage: input.access?.frontage ?? null,
      point: input.access?.point ?? null,
      streetElevationFt: input.access?.streetElevationFt ?? null,
    },
    brief: {
      floorAreaFt2,
      storeys: pick(b.storeys, "brief.storeys", "Storeys above any basement", 2, "", TRADE),
      bedrooms,
      basementBedrooms: pick(
        b.basementBedrooms,
        "brief.basementBedrooms",
        "Bedrooms in a basement",
        Math.min(2, bedrooms),
        "",
        TRADE,
      ),
      garageCars: pick(b.garageCars, "brief.garageCars", "Cars in the garage", 2, "", TRADE),
      basement: pick(
        b.basement,
        "brief.basement",
        "Basement wish",
        "either",
        "",
        "not stated: both kinds are tried",
      ),
      footprint: b.footprint ?? null,
      pads:
        b.pads?.map((p) => ({ name: p.name, ring: p.ring, elevationFt: p.elevationFt, sides: p.sides })) ??
        null,
      septic: b.septic ?? input.utilities?.septic ?? false,
    },
    rules: {
      setbacksFt,
      slopeLimitPct: pick(
        r.slopeLimitPct,
        "rules.slopeLimitPct",
        "Steepest ground that counts as buildable",
        30,
        "%",
        "common in hillside ordinances; the city decides",
      ),
      minBuildableWidthFt: pick(
        r.minBuildableWidthFt,
        "rules.minBuildableWidthFt",
        "Narrowest strip that counts as buildable",
        25,
        "ft",
        TRADE,
      ),
      slopeBandsPct,
      contourIntervalFt: pick(
        r.contourIntervalFt,
        "rules.contourIntervalFt",
        "Contour interval",
        2,
        "ft",
        "common in hillside ordinances",
      ),
      cutBatter: pick(
        r.cutBatter,
        "rules.cutBatter",
        "Cut face, run per rise",
        2,
        "ft/ft",
        "IBC Appendix J106, where adopted",
      ),
      fillBatter: pick(
        r.fillBatter,
        "rules.fillBatter",
        "Fill face, run per rise",
        2,
        "ft/ft",
        "IBC Appendix J107, where adopted",
      ),
      heightLimitFt: pick(
        r.heightLimitFt,
        "rules.heightLimitFt",
        "Building height above natural ground",
        30,
        "ft",
        "a guess: the city decides",
      ),
      maxSiteWallFt: pick(
        r.maxSiteWallFt,
        "rules.maxSiteWallFt",
        "Tallest retaining wall outside the house",
        6,
        "ft",
        TRADE,
      ),
      maxBasementRetainedFt: pick(
        r.maxBasementRetainedFt,
        "rules.maxBasementRetainedFt",
        "Most earth a basement wall may hold",
        12,
        "ft",
        TRADE,
      ),
      fillMaxSlopePct: pick(
        r.fillMaxSlopePct,
        "rules.fillMaxSlopePct",
        "Steepest ground that may take fill",
        35,
        "%",
        TRADE,
      ),
      temporaryBatter: pick(
        r.temporaryBatter,
        "rules.temporaryBatter",
        "Temporary cut, run per rise",
        1.5,
        "ft/ft",
        "29 CFR 1926.652(b)(1), soil not classified",
      ),
      workingSpaceFt: pick(
        r.workingSpaceFt,
        "rules.workingSpaceFt",
        "Working space outside a basement wall",
        3,
        "ft",
        TRADE,
      ),
      apronFt: {
        uphill: pick(
          r.apronFt?.uphill,
          "rules.apronFt.uphill",
          "Graded strip uphill of the house",
          8,
          "ft",
          TRADE,
        ),
        side: pick(r.apronFt?.side, "rules.apronFt.side", "Graded strip beside the house", 5, "ft", TRADE),
        downhill: pick(
          r.apronFt?.downhill,
          "rules.apronFt.downhill",
          "Graded strip downhill of the house",
          4,
          "ft",
          TRADE,
        ),
      },
      floorArea: r.floorArea
        ? { ratio: r.floorArea.ratio, reductionBySlope: r.floorArea.reductionBySlope ?? [] }
        : null,
      maxLotCoveragePct: r.maxLotCoveragePct ?? null,
      floorToFloorFt: pick(r.floorToFloorFt, "rules.floorToFloorFt", "Floor to floor", 10, "ft", TRADE),
      topsoilFt: pick(r.topsoilFt, "rules.topsoilFt", "Topsoil stripped", 0.5, "ft", TRADE),
      driveway: {
        maxGradePct: pick(
          r.driveway?.maxGradePct,
          "rules.driveway.maxGradePct",
          "Steepest driveway",
          15,
          "%",
          "local rules run from 10 to 25 %; the city decides",
        ),
        widthFt: pick(r.driveway?.widthFt, "rules.driveway.widthFt", "Driveway width", 12, "ft", TRADE),
        minInsideRadiusFt: pick(
          r.driveway?.minInsideRadiusFt,
          "rules.driveway.minInsideRadiusFt",
          "Tightest inside turn of the driveway",
          20,
          "ft",
          TRADE,
        ),
      },
      drainage: {
        minPipeSlopePct: pick(
          r.drainage?.minPipeSlopePct,
          "rules.drainage.minPipeSlopePct",
          "Least fall of a drain pipe",
          1,
          "%",
          TRADE,
        ),
        outletFromLineFt: pick(
          r.drainage?.outletFromLineFt,
          "rules.drainage.outletFromLineFt",
          "Drain outlet to lot line",
          10,
          "ft",
          TRADE,
        ),
      },
      rainfall: r.rainfall
        ? { ...r.rainfall, inPerHrLow: r.rainfall.inPerHrLow ?? r.rainfall.inPerHr10yr }
        : { durationMin: 5, inPerHr10yr: 5, inPerHr100yr: 9, inPerHrLow: 3 },
      gradingShutdown: r.gradingShutdown ?? null,
      startMonth: r.startMonth ?? null,
    },
    utilities: {
      sewer: input.utilities?.sewer ?? "unknown",
      sewerInvertFt: input.utilities?.sewerInvertFt ?? null,
      water: input.utilities?.water ?? "unknown",
      power: input.utilities?.power ?? "unknown",
      septic: input.utilities?.septic ?? b.septic ?? false,
    },
    hazards: {
      landslide: input.hazards?.landslide ?? "unknown",
      fault: input.hazards?.fault ?? "unknown",
      flood: input.hazards?.flood ?? "unknown",
      wildfire: input.hazards?.wildfire ?? "unknown",
    },
    soil: {
      kind,
      expansive: soilIn.expansive ?? "unknown",
      swellPct: pick(
        soilIn.swellPct,
        "soil.swellPct",
        "Swell, bank to loose (loose = bank × (1 + swell))",
        factors.swellPct,
        "%",
        army,
      ),
      shrinkPct: pick(
        soilIn.shrinkPct,
        "soil.shrinkPct",
        "Shrink, bank to compacted (compacted = bank × (1 − shrink))",
        factors.shrinkPct,
        "%",
        army,
      ),
      depthToRockFt: soilIn.depthToRockFt ?? null,
      depthToWaterFt: soilIn.depthToWaterFt ?? null,
      depthToFirmFt: soilIn.depthToFirmFt ?? null,
    },
    haul: {
      truckLooseYd3: pick(
        h.truckLooseYd3,
        "haul.truckLooseYd3",
        "Truck bed, loose volume",
        12,
        "yd³",
        MEMORY,
      ),
      truckPayloadTons: pick(
        h.truckPayloadTons,
        "haul.truckPayloadTons",
        "Truck payload",
        14,
        "tons",
        MEMORY,
      ),
      looseDensityLbPerYd3: pick(
        h.looseDensityLbPerYd3,
        "haul.looseDensityLbPerYd3",
        "Weight of loose moist earth",
        2400,
        "lb/yd³",
        MEMORY,
      ),
      roundTripMin: pick(h.roundTripMin, "haul.roundTripMin", "Truck round trip", 70, "min", MEMORY),
      hoursPerDay: pick(h.hoursPerDay, "haul.hoursPerDay", "Hauling hours a day", 6, "h", MEMORY),
      trucks: pick(h.trucks, "haul.trucks", "Trucks on the job", 4, "", MEMORY),
      loadsPerDayCap: h.loadsPerDayCap ?? null,
      postedWeightTons: h.postedWeightTons ?? null,
    },
    costs: {
      regionFactor: pick(
        regionFactor,
        "costs.regionFactor",
        "Regional price factor",
        1,
        "×",
        "1 = coastal-California level, from memory",
      ),
      finishLevel: pick(finishLevel, "costs.finishLevel", "Finish of the house", "good", "", TRADE),
      book: book ?? null,
      escalation: escalation ?? null,
      overrides,
    },
    offer: { askingUsd: input.offer?.askingUsd ?? null, flatLotUsd: input.offer?.flatLotUsd ?? null },
    display: input.display ?? "us",
    seed: input.seed ?? 1,
    assumed,
  };
  if (!r.rainfall)
    note(
      "rules.rainfall",
      "Rain for 5 minutes, low / 10-year / 100-year",
      "3 / 5 / 9",
      "in/h",
      "assumed: look up the official rainfall atlas",
    );
  if (soilIn.expansive === undefined) assumed.push("soil.expansive");
  return { request, assumptions };
}
