/** The rules of the place, with a default and its origin for each the caller does not know. */
import { METRES_PER_FOOT } from "../units.js";
import { type AssumptionNotes, TRADE } from "./assumption-notes.js";
import type { Rules } from "./request.js";
import type { RequestInput } from "./schema.js";

/** Half a meter, for readers of meters: lines at round heights. */
const METRIC_CONTOURS_FT = 0.5 / METRES_PER_FOOT;

export function understandRules(
  input: RequestInput["rules"],
  { pick, note }: AssumptionNotes,
  display: RequestInput["display"] = "us",
): Rules {
  const r = input ?? {};
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

  if (!r.rainfall)
    note(
      "rules.rainfall",
      "Rain for 5 minutes, low / 10-year / 100-year",
      "3 / 5 / 9",
      "in/h",
      "assumed: look up the official rainfall atlas",
    );
  return {
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
      display === "metric" ? METRIC_CONTOURS_FT : 2,
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
  };
}
