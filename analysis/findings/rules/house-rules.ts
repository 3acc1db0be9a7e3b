/** Foundation, basement, utilities, hazards, height and price. */
import { measure } from "../../measure.js";
import { driveOf, graded, PRACTICE, type Rule, WHO } from "../facts.js";

export const houseRules: readonly Rule[] = [
  {
    code: "FND-05",
    title: "Nobody has tested for swelling clay",
    why: "Clay that swells when wet changes the foundation.",
    next: "Have the soil tested in a laboratory",
    who: WHO.soils,
    source: "IBC 1803.5.3",
    onLot: ({ site }) =>
      site.request.soil.expansive === "unknown"
        ? { severity: "watch", measured: "unknown", threshold: "tested", basis: "assumed" }
        : null,
  },
  {
    code: "UTL-01",
    title: "Where the sewage goes is not settled",
    why: "No sewer means a septic field, which steep land often refuses.",
    next: "Get a written will-serve letter, or a percolation test",
    who: `${WHO.utility}, ${WHO.city}`,
    source: PRACTICE,
    onLot: ({ site }, best) => {
      const { sewer, sewerInvertFt, septic } = site.request.utilities;
      if (septic) return null;
      // known, and priced as a field of its own
      if (sewer === "no")
        return { severity: "watch", measured: "no sewer", threshold: "a sewer to join", basis: "rule given" };
      if (sewer !== "yes")
        return { severity: "concern", measured: sewer, threshold: "yes, in writing", basis: "assumed" };
      if (sewerInvertFt === null || !best) return null;
      const lowest = Math.min(
        ...best.design.levels.filter((l) => l.role !== "garage").map((l) => l.floorElevationFt),
      );
      return lowest < sewerInvertFt + 2
        ? {
            severity: "concern",
            measured: lowest - sewerInvertFt,
            threshold: 2,
            unit: "ft above the sewer",
            basis: "rule given",
            more: "The lowest floor would need a pump to reach the sewer.",
          }
        : null;
    },
  },
  {
    code: "UTL-02",
    title: "Water and power not answered, or far away",
    why: "Each foot of trench on a hill is dear.",
    next: "Ask for will-serve letters and the nearest hydrant",
    who: WHO.utility,
    source: PRACTICE,
    onLot: ({ site }, best) => {
      const { water, power } = site.request.utilities;
      const open = [water === "yes" ? "" : "water", power === "yes" ? "" : "power"].filter(Boolean);
      if (open.length)
        return {
          severity: "watch",
          measured: `${open.join(" and ")} not confirmed`,
          threshold: "confirmed",
          basis: "assumed",
        };
      const run = best ? driveOf(best)?.lengthFt : undefined;
      return run !== undefined ? graded(run, [[200, "watch"]], "ft of trench along the drive") : null;
    },
  },
  {
    code: "NAT-01",
    title: "A hazard map shows the lot, or nobody looked",
    why: "Wildfire, flood, fault, slide and habitat maps can stop a job or double its cost.",
    next: "Read the hazard disclosure reports",
    who: WHO.seller,
    source: PRACTICE,
    onLot: ({ site }) => {
      const { landslide, fault, flood, wildfire } = site.request.hazards;
      const named = { landslide, fault, flood, wildfire };
      const answered = (answer: string) =>
        Object.entries(named)
          .filter(([, given]) => given === answer)
          .map(([hazard]) => hazard)
          .join(", ");
      const mapped = answered("yes");
      const open = answered("unknown");
      const said = [mapped && `mapped: ${mapped}`, open && `not checked: ${open}`].filter(Boolean).join("; ");
      if (mapped)
        return { severity: "concern", measured: said, threshold: "none mapped", basis: "rule given" };
      return open ? { severity: "watch", measured: said, threshold: "checked", basis: "assumed" } : null;
    },
  },
  {
    code: "NAT-02",
    title: "Large trees where the ground is moved",
    why: "Trees may be protected, and digging kills roots.",
    next: "Ask for the tree rules; have an arborist look",
    who: WHO.city,
    source: PRACTICE,
    onScheme: ({ design }, site) => {
      const { depth } = design.graded;
      const { grid, values } = depth;
      let trees = 0;
      for (const feature of site.survey.features) {
        if (feature.kind !== "tree" || (feature.trunkIn ?? 0) <= 12) continue;
        const col = Math.floor((feature.at[0] - grid.originEastFt) / grid.cellFt);
        const row = Math.floor((feature.at[1] - grid.originNorthFt) / grid.cellFt);
        if (
          col >= 0 &&
          row >= 0 &&
          col < grid.cols &&
          row < grid.rows &&
          !Number.isNaN(values[row * grid.cols + col]!)
        )
          trees++;
      }
      return trees > 0
        ? { severity: "watch", measured: trees, threshold: 0, unit: `trees over ${measure(12, "in")}` }
        : null;
    },
  },
  {
    code: "BSM-01",
    title: "A bedroom against the hill",
    why: "Each sleeping room below ground needs its own way out.",
    next: "Add a light well with a ladder, or move the room",
    who: WHO.architect,
    source: "IRC R310",
    onScheme: ({ structure }) =>
      structure.basement ? graded(structure.basement.lightWells, [[0, "info"]], "light wells") : null,
  },
  {
    code: "BSM-02",
    title: "A basement wall that holds much earth",
    why: "The wall holds a hill; its cost climbs faster than its height.",
    next: "Have it designed; look at a shallower house",
    who: WHO.structural,
    source: PRACTICE,
    onScheme: ({ structure }) =>
      structure.basement
        ? graded(
            structure.basement.maxRetainedFt,
            [
              [10, "watch"],
              [12, "concern"],
              [14, "stop"],
            ],
            "ft of earth held",
          )
        : null,
  },
  {
    code: "BSM-03",
    title: "The ground does not suit one open basement story",
    why: "The ground across the house is too flat to open a lower floor, or too steep for one story of it.",
    next: "Look at stepped levels or a full basement",
    who: WHO.builder,
    source: PRACTICE,
    onScheme: ({ structure, design }) => {
      if (!structure.basement || design.kind !== "daylight-basement") return null;
      const relief = structure.basement.maxRetainedFt;
      if (relief < 5)
        return { severity: "watch", measured: relief, threshold: 5, unit: "ft of rise across the house" };
      return relief > 14
        ? { severity: "watch", measured: relief, threshold: 14, unit: "ft of rise across the house" }
        : null;
    },
  },
  {
    code: "PRC-01",
    title: "Cheap land that may not be cheap",
    why: "The asking price and the extra cost of the hill together pass the price of a flat lot.",
    next: "Talk about the price",
    who: WHO.you,
    source: "asking price and flat-lot price of the request",
    onLot: ({ site }, best) => {
      const { askingUsd, flatLotUsd } = site.request.offer;
      if (askingUsd === null || flatLotUsd === null || !best) return null;
      const allIn = askingUsd + best.cost.hillsidePremiumUsd.p50;
      return allIn > flatLotUsd
        ? { severity: "concern", measured: allIn, threshold: flatLotUsd, unit: "USD", basis: "rule given" }
        : null;
    },
  },
  {
    code: "HGT-01",
    title: "Taller than the limit",
    why: "Many cities measure height from the ground as it was, and may count an open lower floor as a story.",
    next: "Ask how height is measured",
    who: WHO.city,
    source: "height limit of the request",
    onScheme: ({ structure }, site) =>
      structure.heightOk
        ? null
        : {
            severity: "concern",
            measured: structure.heightAboveGroundFt,
            threshold: structure.heightLimitFt,
            unit: "ft above natural ground",
            basis: site.request.assumed.includes("rules.heightLimitFt") ? "assumed" : "rule given",
          },
  },
  {
    code: "FAR-01",
    title: "More floor than the rule allows",
    why: "Hillside rules often cut the floor area on steep lots.",
    next: "Ask for the floor-area rule and what counts",
    who: WHO.city,
    source: "floor-area rule of the request",
    onScheme: ({ structure, design }) =>
      structure.allowedFloorAreaFt2 !== null && design.floorAreaFt2 > structure.allowedFloorAreaFt2
        ? {
            severity: "concern",
            measured: design.floorAreaFt2,
            threshold: structure.allowedFloorAreaFt2,
            unit: "ft² of floor",
            basis: "rule given",
          }
        : null,
  },
  {
    code: "COV-01",
    title: "More of the lot covered than the rule allows",
    why: "Many places limit how much of a lot may lie under roof.",
    next: "Ask what counts as coverage: eaves, decks, garage",
    who: WHO.city,
    source: "lot-coverage limit of the request",
    onScheme: ({ structure }, site) => {
      const limitPct = site.request.rules.maxLotCoveragePct;
      return limitPct !== null && structure.coveragePct > limitPct
        ? {
            severity: "concern",
            measured: structure.coveragePct,
            threshold: limitPct,
            unit: "% of the lot under roof",
            basis: "rule given",
          }
        : null;
    },
  },
  {
    code: "SEP-01",
    title: "No room seen for a septic field",
    why: "A field and its reserve need gentle ground away from cuts and water.",
    next: "Have the soil tested and the field laid out",
    who: WHO.civil,
    source: PRACTICE,
    onScheme: ({ structure }) =>
      structure.septic && !structure.septic.fits
        ? {
            severity: "concern",
            measured: structure.septic.areaFt2,
            threshold: "room for a field and its reserve",
            unit: "ft²",
            more: structure.septic.because,
          }
        : null,
  },
];
