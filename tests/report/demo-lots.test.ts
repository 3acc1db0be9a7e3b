/** Reports of whole studies: the three demo lots, from files to the client's page. */
import { assert, describe, test } from "vitest";
import { textOf } from "./page-text.js";
import { gradeLevel, sentencesOf, TRADE_WORDS } from "./reading-level.js";
import { DEMO_LOTS, demoStudy, reportOf } from "./whole-studies.js";

/** Two significant figures as people write dollars: done here by hand, not by the report's own code. */
function dollars(usd: number): string {
  const two = Number(usd.toPrecision(2));
  return two >= 1e6 ? `$${(two / 1e6).toFixed(1)} million` : `$${Math.round(two).toLocaleString("en-US")}`;
}

/** The five numbers of page one as printed: name, likely value, range and comparison. */
function fiveNumbers(html: string): Map<string, { likely: string; range: string; compare: string }> {
  const cells = html.matchAll(
    /<dt>([^<]*)<\/dt>\s*<dd class="likely">([^<]*)<\/dd>\s*<dd class="range">([^<]*)<\/dd>\s*<dd class="compare">([^<]*)<\/dd>/g,
  );
  const plain = (text: string) => text.replace(/\u00a0|&nbsp;/g, " ").replaceAll("−", "-");
  return new Map(
    [...cells].map(([, name, likely, range, compare]) => [
      name!,
      { likely: plain(likely!), range: plain(range!), compare: plain(compare!) },
    ]),
  );
}

/** Numbers in a text, thousands and millions read as people read them. */
function numbersIn(text: string): number[] {
  return [...text.matchAll(/(\d[\d,]*(?:\.\d+)?)( million)?/g)].map(
    ([, digits, million]) => Number(digits!.replaceAll(",", "")) * (million ? 1e6 : 1),
  );
}

for (const lot of DEMO_LOTS)
  describe(`the report of ${lot}`, async () => {
    const whole = await demoStudy(lot);
    const { study: found, pictures } = whole;
    const html = reportOf(whole);
    const page = html.slice(html.indexOf("<article"), html.indexOf("</article>"));
    const text = textOf(page);
    const best = found.schemes.find((scheme) => scheme.id === found.recommendation.schemeId);

    test("page one reads at eighth grade or below, without words of the trade", () => {
      assert.isAtMost(gradeLevel(sentencesOf(text)), 8);
      assert.notMatch(text.replace(/“[^”]*”/g, ""), TRADE_WORDS);
    });

    test("page one says the study's verdict, reasons and numbers", () => {
      assert.include(text, found.recommendation.verdict);
      for (const reason of found.recommendation.reasons.slice(0, 3))
        assert.include(text.toLowerCase(), reason.replace(/\.$/, "").toLowerCase());
      if (!best) return;
      if (found.recommendation.verdictCode !== "cannot-tell")
        assert.include(text, dollars(best.cost.hillsidePremiumUsd.p50));
      assert.include(text, `${Math.round(best.slopeUnderHousePct.mean)} %`);
      assert.include(text, `${Math.round(best.schedule.untilFrameMonths[1])}.`);
    });

    test("the pad's dirt is one number wherever it is told", () => {
      const section = (id: string) =>
        textOf(html.slice(html.indexOf(`aria-labelledby="${id}"`)).split("</section>")[0]!).replaceAll(
          "\u00a0",
          " ",
        );
      for (const [inDirt, inBill] of [
        ["Cut", "Cut for the pad"],
        ["Left over from the pad", "Left over from the pad"],
      ]) {
        const told = section("chosen").match(new RegExp(`${inDirt}\\. ([\\d,]+) yd³`))?.[1];
        const billed = [...section("cost").matchAll(new RegExp(`${inBill} ([\\d,]+) yd³`, "g"))];
        assert.isNotEmpty(billed, inBill);
        for (const [, yd3] of billed) assert.equal(yd3, told, inBill);
      }
    });

    // The square metre is defined by the foot of 0.3048 m; other amounts have no unit that changes.
    for (const [display, areaFactor] of [
      ["us", 1],
      ["metric", 0.3048 ** 2],
    ] as const)
      test(`every number of page one is the study's own, rounded (${display})`, () => {
        const five = fiveNumbers(reportOf(whole, display));
        assert.lengthOf([...five], 5);
        const near = (printed: number | undefined, exact: number, most: number, what: string) =>
          assert.closeTo(printed ?? NaN, exact, most, what);
        const { mean, p90 } = best!.slopeUnderHousePct;
        const steep = five.get("How steep, where the house goes")!;
        near(numbersIn(steep.likely)[0], mean, 0.5, "slope");
        if (steep.range.includes("%")) near(numbersIn(steep.range)[0], p90, 0.5, "steepest");
        const { areaFt2, bySlopeLimit, slopeLimitPct } = found.buildable;
        const ground = five.get("Ground left to build on")!;
        const area = (text: string, at: number, ft2: number) =>
          near(numbersIn(text)[at], areaFactor * ft2, 0.005 * areaFactor * ft2 + 0.5, "ground");
        area(ground.likely, 0, areaFt2);
        area(ground.compare, 0, found.lot.areaFt2);
        if (ground.range.includes(" to ")) {
          area(ground.range, 0, bySlopeLimit.filter((c) => c.limitPct < slopeLimitPct).at(-1)!.areaFt2);
          area(ground.range, 1, bySlopeLimit.find((c) => c.limitPct > slopeLimitPct)!.areaFt2);
        }
        const hauled = best!.cost.hauledLoads;
        const loads = five.get("Truckloads of dirt on the road")!;
        near(numbersIn(loads.likely)[0], hauled.p50, (hauled.p90 - hauled.p10) / 8 + 0.5, "loads");
        if (loads.range.includes(" to ")) {
          near(numbersIn(loads.range)[0], hauled.p10, 0.5, "fewest loads");
          near(numbersIn(loads.range)[1], hauled.p90, 0.5, "most loads");
        }
        const premium = best!.cost.hillsidePremiumUsd;
        const extra = five.get("Extra cost against flat land")!;
        // Two figures: never off by more than one part in twenty.
        near(numbersIn(extra.likely)[0], premium.p50, premium.p50 / 20, "extra cost");
        const [low, high] = numbersIn(extra.range);
        near(low, premium.p10, premium.p10 / 20, "low extra cost");
        near(high, premium.p90, premium.p90 / 20, "high extra cost");
        near(numbersIn(extra.compare)[0], best!.cost.flatLotP50Usd, best!.cost.flatLotP50Usd / 20, "flat");
        const months = five.get("Months until the frame can start")!;
        near(numbersIn(months.likely)[0], best!.schedule.untilFrameMonths[1], 0.5, "months");
        const [early, late] = numbersIn(months.range);
        near(early, best!.schedule.untilFrameMonths[0], 0.5, "early");
        near(late, best!.schedule.untilFrameMonths[2], 0.5, "late");
      });

    test("the money pages say what a square foot costs, how far the draws are to be trusted, what is wide and what is not claimed", () => {
      const { perFt2Usd, samplingErrorUsd, spread, basis } = best!.cost;
      const money = textOf(html.slice(html.indexOf('id="cost"'), html.indexOf('id="months"')));
      const [, ...perFoot] = money.match(
        /The same, for each square foot of house[^$]*\$([\d,]+)[^$]*\$([\d,]+)[^$]*\$([\d,]+)/,
      )!;
      perFoot.forEach((printed, i) => {
        const exact = [perFt2Usd.p10, perFt2Usd.p50, perFt2Usd.p90][i]!;
        assert.closeTo(Number(printed.replace(",", "")), exact, exact / 20);
      });
      const worst = Math.max(samplingErrorUsd.p10, samplingErrorUsd.p50, samplingErrorUsd.p90);
      const error = Number(
        /would move low, middle and high by about \$([\d,]+)/.exec(money)![1]!.replace(",", ""),
      );
      assert.closeTo(error, worst, worst / 20);
      assert.closeTo(Number(/wide: prices (\d+) %/.exec(money)![1]), 100 * spread.prices, 1);
      assert.include(money, basis.classWords);
    });

    test("months of every way to build stand beside flat land in one picture", () => {
      const figure = html.slice(html.indexOf('id="figure-ways-months"'));
      for (const { name, schedule } of found.schemes) {
        const row = figure.slice(figure.indexOf(`>${name}`)).match(/>(\S+) \((\S+) to (\S+)\)</)!;
        const [low, middle, high] = schedule.totalMonths;
        row.slice(1).forEach((printed, i) => {
          assert.closeTo(Number(printed), [middle, low, high][i]!, 0.5, name);
        });
      }
    });

    test("months below the main floor are told of a house with a basement, in words, table and picture, and of no other", () => {
      const section = html.slice(html.indexOf('id="months"'), html.indexOf('id="findings"'));
      const words =
        /Of about (\S+) months[^,]*, (\S+) \((\S+) to (\S+)\) go into.*?about (\d+) % \((\d+) to (\d+) %\)/;
      const told = textOf(section).match(words)?.slice(1).map(Number);
      const { belowFloorMonths: below, belowFloorShare: share, buildingMonths } = best!.schedule;
      assert.equal(section.includes("Below the main floor"), below !== null);
      assert.equal(section.includes("Of these below the main floor"), below !== null);
      assert.equal(told !== undefined, below !== null);
      assert.equal(best!.basement !== null, below !== null);
      if (!told || !below || !share) return;
      const exact = [
        buildingMonths[1],
        below[1],
        below[0],
        below[2],
        ...[1, 0, 2].map((i) => 100 * share[i]!),
      ];
      // whole months, halves below five; shares in steps of five
      told.forEach((printed, i) => {
        assert.closeTo(printed, exact[i]!, i < 4 ? 0.5 : 2.5);
      });
    });

    test("the money pages speak no code of the cost book and no field of the study document", () => {
      const money = textOf(html.slice(html.indexOf('id="cost"'), html.indexOf('id="months"')));
      assert.notMatch(money, /\b[A-Z]{3,}-[A-Z0-9]+\b/);
      assert.notMatch(money, /\b[a-z]+\.[a-z]+[A-Z]\w*/);
      assert.notMatch(money, /\b(ls|yd3|ft2)\b/);
      for (const code of ["DEWATER", "SEPTIC", "EXCAV", "HOUSE", "SUMP", "SHORE"])
        assert.notInclude(money, code);
    });

    test("every way to build is cut open, all at one scale", () => {
      const scales = found.schemes.map(({ id }) => {
        const figure = html.slice(html.indexOf(`id="figure-section-${id}"`));
        // The scale bar's length on the sheet over the feet written at its end.
        const [, feet] = figure.match(/>(\d+)\s*ft<\/text>/)!;
        const blocks = [
          ...figure
            .slice(0, figure.indexOf("</figure>"))
            .matchAll(/class="bar-(?:dark|light)"[^>]*?width="([\d.]+)"/g),
        ];
        assert.isNotEmpty(blocks, id);
        return blocks.reduce((sum, [, width]) => sum + Number(width), 0) / Number(feet);
      });
      for (const scale of scales) assert.approximately(scale, scales[0]!, 0.02 * scales[0]!);
    });

    test("sections draw what stands in the ground: piers under the house, drains and walls of a basement", () => {
      for (const scheme of found.schemes) {
        const drawn = pictures.schemes.find(({ id }) => id === scheme.id)!;
        if (scheme.foundation.piers > 0)
          assert.isNotEmpty([...drawn.along.piers, ...drawn.across.piers], `piers of ${scheme.id}`);
        if (scheme.basement) {
          assert.includeMembers(
            drawn.along.drains.map((d) => d.tier),
            ["under-slab", "wall"],
          );
          assert.isNotEmpty([...drawn.along.walls, ...drawn.across.walls], `walls of ${scheme.id}`);
        }
        for (const section of [drawn.along, drawn.across]) {
          const ends = section.levels.flatMap((level) => [level.fromFt, level.toFt]);
          for (const { atFt } of section.piers) {
            assert.isAtLeast(atFt, Math.min(...ends));
            assert.isAtMost(atFt, Math.max(...ends));
          }
        }
      }
    });

    test("loads and their passes by the neighbors agree as printed", () => {
      const told = text.match(/about (\d[\d,]*) .*?: (\d[\d,]*) pass/);
      if (!told) return;
      const [loads, passes] = told.slice(1).map((n) => Number(n.replaceAll(",", "")));
      assert.equal(passes, 2 * loads!);
    });

    test("every finding is there, and no broken value", () => {
      const whole = textOf(html);
      for (const finding of found.findings) assert.include(whole, finding.title);
      assert.notMatch(whole, /\b(NaN|undefined|null|Infinity|\[object)\b/);
    });

    test("pictures stay under 300 kB, the page under 1 MB", () => {
      assert.isBelow(JSON.stringify(pictures).length, 300_000);
      assert.isBelow(Buffer.byteLength(html), 1_000_000);
    });
  });
