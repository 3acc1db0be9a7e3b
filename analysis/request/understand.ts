/** Fills the defaults of a request and says which values are ours. */
import type { Assumption } from "../assumptions.js";
import { assumptionNotes, MEMORY, TRADE } from "./assumption-notes.js";
import { withoutRepeats } from "./check-pads.js";
import type { StudyRequest } from "./request.js";
import type { RequestInput } from "./schema.js";
import { understandRules } from "./understand-rules.js";

/** Loose and compacted volume per bank volume by kind of soil: US Army FM 5-434 (2000) soil-conversion factors, from memory. */
const SOIL_FACTORS = {
  "common-earth": { swellPct: 25, shrinkPct: 10 },
  sand: { swellPct: 11, shrinkPct: 5 },
  clay: { swellPct: 43, shrinkPct: 10 },
  rock: { swellPct: 50, shrinkPct: -30 },
} as const;

/**
 * Returns the request with every default filled in and the list of values that are defaults,
 * each with the path that changes it. Never throws: the schema has already refused bad values.
 */
export function understandRequest(input: RequestInput): { request: StudyRequest; assumptions: Assumption[] } {
  const notes = assumptionNotes();
  const { pick, assumed, assumptions } = notes;
  const b = input.brief ?? {};
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
  const bedrooms = pick(
    b.bedrooms,
    "brief.bedrooms",
    "Bedrooms",
    Math.max(4, b.basementBedrooms ?? 0),
    "",
    TRADE,
  );
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
        b.pads?.map((p) => ({
          name: p.name,
          ring: withoutRepeats(p.ring),
          elevationFt: p.elevationFt,
          sides: p.sides,
        })) ?? null,
      septic: b.septic ?? input.utilities?.septic ?? false,
    },
    rules: understandRules(input.rules, notes, input.display),
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
  if (soilIn.expansive === undefined) assumed.push("soil.expansive");
  return { request, assumptions };
}
