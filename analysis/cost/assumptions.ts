/** Judgements behind the money that no request changes. */
import type { Assumption } from "../assumptions.js";
import { FLAT_LOT } from "../bill/flat-twin.js";
import { EVENT_ODDS } from "../bill/index.js";
import { FULL_HILLSIDE_PCT } from "../bill/list-paperwork.js";
import { DRAWS } from "./money-draws.js";
import { LEAST_HOLD_BACK_SHARE } from "./price-schemes.js";

const MEMORY = "from memory, order of magnitude";
const PRACTICE = "common practice, no source";
const percent = (share: number) => Math.round(100 * share);

export const assumptions: readonly Assumption[] = [
  {
    name: "Draws behind every range of money",
    value: DRAWS,
    unit: "",
    origin: "chosen so that the ranges move by less than a few percent",
  },
  {
    name: "Low and high of a price",
    value: "one in ten is cheaper, one in ten is dearer",
    unit: "",
    origin: "the cost book",
  },
  {
    name: "Movement shared by all prices and by each trade",
    value: "40 % and 30 % of the variance; house 50 and 30; fees none and 30",
    unit: "",
    origin: MEMORY,
  },
  { name: "Dirt, walls and drains may grow", value: "× 0.85 to 1.25", unit: "", origin: MEMORY },
  {
    name: "Chance of rock in the dig, nobody knowing",
    value: percent(EVENT_ODDS.rock),
    unit: "%",
    origin: MEMORY,
    changeWith: "soil.depthToRockFt",
  },
  {
    name: "Chance of water in the dig, nobody knowing",
    value: percent(EVENT_ODDS.water),
    unit: "%",
    origin: MEMORY,
    changeWith: "soil.depthToWaterFt",
  },
  {
    name: "Chance of old loose fill, nobody knowing",
    value: percent(EVENT_ODDS.oldFill),
    unit: "%",
    origin: MEMORY,
    changeWith: "soil.depthToFirmFt",
  },
  {
    name: "Chance of swelling soil, nobody knowing",
    value: percent(EVENT_ODDS.expansive),
    unit: "%",
    origin: MEMORY,
    changeWith: "soil.expansive",
  },
  {
    name: "Chance of no sewer, nobody knowing",
    value: percent(EVENT_ODDS.noSewer),
    unit: "%",
    origin: MEMORY,
    changeWith: "utilities.sewer",
  },
  {
    name: "Chance that a basement dig must be shored though it fits",
    value: percent(EVENT_ODDS.shoring),
    unit: "%",
    origin: MEMORY,
  },
  {
    name: "Chance that drains cannot run out where they could, and a pump is needed",
    value: percent(EVENT_ODDS.pump),
    unit: "%",
    origin: MEMORY,
  },
  {
    name: "Chance that the dump refuses or is far",
    value: percent(EVENT_ODDS.dump),
    unit: "%",
    origin: MEMORY,
  },
  {
    name: "Driveway and services of the flat lot",
    value: `${FLAT_LOT.driveFt} and ${FLAT_LOT.serviceFt}`,
    unit: "ft",
    origin: PRACTICE,
  },
  {
    name: "Slope from which a hillside's engineers and erosion control are due in full",
    value: FULL_HILLSIDE_PCT,
    unit: "%",
    origin: MEMORY,
  },
  {
    name: "Least money to hold back",
    value: percent(LEAST_HOLD_BACK_SHARE),
    unit: "% of sitework",
    origin: PRACTICE,
  },
];
