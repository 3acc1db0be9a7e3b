/** Builder's page on months. */
import { WEEKS_PER_MONTH } from "../../analysis/units.js";
import { roundTo } from "../../analysis/written-number.js";
import { type RangeRow, ranges, type SpanPart, type SpanRow, spans } from "../drawings/bar-charts.js";
import { areaSample, diamondSample, plainSample } from "../drawings/legend.js";
import { months } from "./format.js";
import { figure, markOf, type Source, table } from "./report-parts.js";
import { fitInWords } from "./words.js";

/** Steps shorter than this are not worth naming among those the finish hangs on. */
const LONG_WEEKS = 4;
/** Shorter steps are in the table alone. */
const SHORTEST_DRAWN_WEEKS = 1.5;
const SHARE_STEP_PCT = 5;

type Schedule = NonNullable<Source["chosen"]>["schedule"];

export function monthsPage({ study, format, chosen }: Source) {
  if (!chosen) return undefined;
  const s = chosen.schedule;
  const row = (
    name: string,
    [low, middle, high]: readonly [number, number, number],
    flat?: readonly [number, number, number],
  ) => [name, `${months(low)} to ${months(high)}`, months(middle), flat ? months(flat[1]) : ""];
  const below = s.belowFloorMonths &&
    s.belowFloorShare && { months: s.belowFloorMonths, share: s.belowFloorShare };
  const rows = spanRows(s);
  const ways = [
    wayOf("Same house on flat land", s.flatTotalMonths, true),
    ...study.schemes.map((scheme) =>
      wayOf(
        `${scheme.name}${markOf(scheme.id, study, chosen)}`,
        scheme.schedule.totalMonths,
        fitInWords(scheme) !== "yes",
      ),
    ),
  ];
  return {
    picture: figure(
      spans(
        {
          id: "months",
          title: `About ${months(s.untilFrameMonths[1])} months until the frame, ${months(s.totalMonths[1])} until the keys`,
          words: rows
            .filter(({ parts }) => parts.length > 0)
            .map((r) => {
              const when = r.parts.map(({ from, to }) => `${months(from)} to ${months(to)}`);
              return `${r.name}: month ${when.join(" and ")}`;
            })
            .join("; "),
        },
        rows,
        (v) => (v === 0 ? "offer" : `${format.count(v)} mo`),
      ),
      "Months from the accepted offer, middle values; weeks of each step at the right.",
      [
        { sample: areaSample("months-before", "span-before"), words: "before the ground" },
        { sample: areaSample("months-ground", "span-ground"), words: "ground work" },
        ...(below
          ? [{ sample: areaSample("months-below", "span-below"), words: "rooms of the basement" }]
          : []),
        { sample: plainSample("span-house"), words: "house" },
        ...(s.activities.some((a) => a.hold)
          ? [{ sample: diamondSample("hold"), words: "somebody must sign" }]
          : []),
      ],
    ),
    ways: figure(
      ranges(
        {
          id: "ways-months",
          title: `From the offer to the keys: ${months(s.totalMonths[0])} to ${months(s.totalMonths[2])} months, the middle ${months(s.totalMonths[1])}`,
          words: ways.map((r) => `${r.name}: ${r.value}`).join("; "),
        },
        ways,
        (v) => `${format.count(v)} mo`,
        true,
      ),
      "Months from the accepted offer. The bar runs from one chance in ten below to one chance in ten above; the stroke is the middle. Pale: flat land, and ways that break a rule or have no driveway.",
    ),
    table: table(
      "Months, from the accepted offer",
      ["", "Range", "Middle", "Flat land, middle"],
      [
        row("Before the ground", s.preconstructionMonths, s.flatPreconstructionMonths),
        row("Ground work", s.groundMonths, s.flatGroundMonths),
        row("Until the frame can start", s.untilFrameMonths, s.flatUntilFrameMonths),
        row("House from there", s.houseMonths, s.flatHouseMonths),
        row("From the first machine to the keys", s.buildingMonths, s.flatBuildingMonths),
        ...(below ? [row("Of these below the main floor", below.months)] : []),
        row("All", s.totalMonths, s.flatTotalMonths),
      ],
    ),
    below:
      below &&
      `Of about ${months(s.buildingMonths[1])} months from the first machine to the keys, ${months(below.months[1])} (${months(below.months[0])} to ${months(below.months[2])}) go into what lies below the main floor: the ground work and the rooms of the basement. That is ${spread(below.share)} of the time.`,
    longer: table(
      "What would take longer",
      ["If", "Chance", "Weeks more, likely"],
      s.longerIf.map(({ name, chance, addsWeeks }) => [
        format.say(name),
        format.percent(100 * chance),
        addsWeeks < 0.75 ? "a few days" : `${roundTo(addsWeeks, 0.5)}`,
      ]),
    ),
    season: seasonInWords(study.request.rules),
    steps: table(
      "Every step",
      ["Step", "Weeks", "Begins, middle", "Waits for a signature or a look"],
      s.activities.map((a) => [
        a.name,
        weeks(a.weeks),
        `month ${months(inMonths(a.startWeekP50))}`,
        a.hold ? "yes" : "no",
      ]),
    ),
    critical: s.activities
      .filter((a) => a.criticalShare >= 0.5 && a.weeks[1] >= LONG_WEEKS)
      .map((a) => a.name),
  };
}

/** Steps long enough to draw, what must be signed, what lies below the floor, and the flat lot. */
function spanRows(s: Schedule): SpanRow[] {
  const barOf = (a: Schedule["activities"][number]): SpanPart => ({
    from: inMonths(a.startWeekP50),
    to: inMonths(a.finishWeekP50),
    tone: a.belowFloor && a.phase === "house" ? "below" : a.phase,
  });
  const holds = s.activities.filter((a) => a.hold);
  const rows: SpanRow[] = s.activities
    .filter((a) => !a.hold && a.weeks[1] >= SHORTEST_DRAWN_WEEKS)
    .map((a) => ({
      name: a.name,
      value: weeks(a.weeks),
      parts: [barOf(a)],
      holds: [],
    }));
  if (holds.length)
    rows.push({
      name: "Somebody must sign or look",
      value: `${holds.length} times`,
      parts: [],
      holds: holds.map((a) => inMonths(a.finishWeekP50)),
    });
  if (s.belowFloorMonths)
    rows.push({
      name: "Below the main floor",
      value: `${months(s.belowFloorMonths[1])} of ${months(s.buildingMonths[1])} months`,
      parts: joined(s.activities.filter((a) => a.belowFloor).map(barOf)),
      holds: [],
    });
  rows.push({
    name: "Same house on flat land",
    value: `${months(s.flatTotalMonths[1])} months`,
    parts: [
      { from: 0, to: s.flatPreconstructionMonths[1], tone: "before" },
      { from: s.flatPreconstructionMonths[1], to: s.flatUntilFrameMonths[1], tone: "ground" },
      { from: s.flatUntilFrameMonths[1], to: s.flatTotalMonths[1], tone: "house" },
    ],
    holds: [],
  });
  return rows;
}

function inMonths(week: number): number {
  return week / WEEKS_PER_MONTH;
}

function wayOf(
  name: string,
  [low, middle, high]: readonly [number, number, number],
  quiet: boolean,
): RangeRow {
  return { name, value: `${months(middle)} (${months(low)} to ${months(high)})`, low, middle, high, quiet };
}

/** Bars of one tone as one, from the first start to the last end. */
function joined(bars: readonly SpanPart[]): SpanPart[] {
  return [...new Set(bars.map(({ tone }) => tone))].map((tone) => {
    const alike = bars.filter((bar) => bar.tone === tone);
    return {
      tone,
      from: Math.min(...alike.map(({ from }) => from)),
      to: Math.max(...alike.map(({ to }) => to)),
    };
  });
}

/** Whether grading stands still in the wet season, and what that was taken from. */
function seasonInWords({ gradingShutdown, startMonth }: Source["study"]["request"]["rules"]): string {
  if (!gradingShutdown)
    return "No stop of grading in the wet season is counted, because none was named. Many hillside cities have one: ask.";
  const { fromMonth, toMonth } = gradingShutdown;
  const start =
    startMonth === null
      ? "the month of the offer is not known, so any month is as likely"
      : `the offer is taken to be accepted in ${monthName(startMonth)}`;
  return `Grading stands still from ${monthName(fromMonth)} to ${monthName(toMonth)}, as you said; ${start}.`;
}

function monthName(month: number): string {
  return new Date(Date.UTC(2026, month - 1)).toLocaleString("en-US", { month: "long", timeZone: "UTC" });
}

/** Shares in steps of five percent, as far as they are known. */
function spread(share: readonly [number, number, number]): string {
  const [low, middle, high] = share.map((of) => roundTo(100 * of, SHARE_STEP_PCT));
  return `about ${middle} % (${low} to ${high} %)`;
}

function weeks([low, likely, high]: readonly [number, number, number]): string {
  const half = (v: number) => roundTo(v, 0.5);
  if (half(high) <= 0.5) return "a few days";
  if (half(likely) === 0) return `a few days, up to ${half(high)} wk`;
  return half(low) === half(high)
    ? `${half(likely)} wk`
    : `${half(likely)} wk (${half(low)} to ${half(high)})`;
}
