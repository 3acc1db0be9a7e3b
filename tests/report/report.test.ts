/** The report as a file: whole, closed to the outside, and true to the study. */
import { readFileSync } from "node:fs";
import { HtmlValidate } from "html-validate";
import { assert, describe, test } from "vitest";
import { stretchesOf } from "../../templates/drawings/curve-chart.js";
import { renderReport } from "../../templates/render-report.js";
import { GLOSSARY } from "../../templates/view/glossary.js";
import { type Fixture, makeFixture } from "./fixtures.js";
import { textOf } from "./page-text.js";

type Study = Fixture["study"];

/** The fixture with some of its study changed. */
function changed(
  change: (study: Study) => Partial<Study>,
  kinds?: Parameters<typeof makeFixture>[0],
): Fixture {
  const fixture = makeFixture(kinds);
  return { ...fixture, study: { ...fixture.study, ...change(fixture.study) } };
}

const noRoom = changed((study) => ({
  schemes: study.schemes.map((s) => ({ ...s, feasible: false, problems: ["No place large enough."] })),
  recommendation: {
    schemeId: null,
    verdictCode: "no-room",
    verdict: "By the rules given or assumed here, no house of this size fits.",
    reasons: ["Setbacks take most of the lot."],
    flipsIf: [],
  },
}));
const cannotTell = changed((study) => ({
  recommendation: {
    ...study.recommendation,
    verdictCode: "cannot-tell",
    verdict: "We cannot tell from this survey.",
    reasons: ["The survey shows only 60 % of the lot."],
    flipsIf: [],
  },
}));
const fixedPads = (() => {
  const fixture = makeFixture(["fixed-pad"]);
  const request = {
    ...fixture.study.request,
    brief: {
      ...fixture.study.request.brief,
      pads: [{ name: "A", ring: [], elevationFt: 417, sides: "vertical" as const }],
    },
  };
  return {
    ...fixture,
    study: {
      ...fixture.study,
      request,
      schemes: fixture.study.schemes.map((s) => ({
        ...s,
        driveway: null,
        curves: null,
        search: null,
        access: {
          reachable: false,
          because: "Not looked for with a pad given.",
          gentlestGradePct: null,
          helps: [],
        },
      })),
    },
  };
})();
const bare = (() => {
  const fixture = makeFixture([]);
  return {
    ...fixture,
    study: {
      ...fixture.study,
      recommendation: { ...fixture.study.recommendation, schemeId: null, verdictCode: "no-room" as const },
      findings: [],
    },
  };
})();
const hostile = changed(() => ({ name: `<script>alert("1")</script> & 'Lot' \\ } */` }));

const varied = changed((study) => ({
  request: { ...study.request, rules: { ...study.request.rules, slopeLimitPct: 25 } },
  buildable: { ...study.buildable, areaFt2: 4_900, slopeLimitPct: 25 },
}));

const reports: Record<string, string> = {
  "three ways": renderReport(makeFixture()),
  "in metric": renderReport({ ...makeFixture(), display: "metric" }),
  "one way": renderReport(makeFixture(["daylight-basement"])),
  "no room": renderReport(noRoom),
  "cannot tell": renderReport(cannotTell),
  "a fixed pad": renderReport(fixedPads),
  "no scheme at all": renderReport(bare),
  "a hostile name": renderReport(hostile),
  "a variant": renderReport({ ...varied, before: makeFixture().study, variantAction: "/r/abc/variants" }),
};

const validator = new HtmlValidate({
  extends: ["html-validate:recommended"],
  rules: { "no-inline-style": "error", "long-title": "off" },
});

for (const [name, html] of Object.entries(reports))
  describe(`a report of ${name}`, () => {
    test("is valid HTML", async () => {
      const report = await validator.validateString(html);
      assert.deepEqual(
        report.results.flatMap((r) =>
          r.messages.map((m) => `${m.line}:${m.column} ${m.ruleId}: ${m.message}`),
        ),
        [],
      );
    });
    test("asks nothing of the outside and runs no script", () => {
      assert.notMatch(html, /<script|<link|<iframe|<img|@import|\son\w+=|javascript:/i);
      assert.notMatch(html, /\sstyle=/);
      assert.notMatch(html, /(?:href|src|xlink:href)="(?!#)/);
      assert.notMatch(html, /url\((?!#)/);
      assert.lengthOf(html.match(/<style/g)!, 1);
    });
    test("stays under 1 MB", () => assert.isBelow(Buffer.byteLength(html), 1_000_000));
    test("shows no broken value", () => {
      assert.notMatch(textOf(html), /\b(NaN|undefined|null|Infinity|\[object)\b/);
      assert.notMatch(html, /(NaN|undefined|Infinity)/);
    });
    test("names every id once, and every reference finds its id", () => {
      const ids = [...html.matchAll(/\sid="([^"]+)"/g)].map((m) => m[1]!);
      assert.lengthOf(new Set(ids), ids.length);
      const used = [...html.matchAll(/href="#([^"]+)"|url\(#([^)]+)\)|aria-labelledby="([^"]+)"/g)].flatMap(
        (m) => (m[1] ?? m[2] ?? m[3]!).split(" "),
      );
      assert.deepEqual(
        used.filter((id) => !ids.includes(id)),
        [],
      );
    });
    test("says every picture in words", () => {
      for (const [svg] of html.matchAll(/<svg class="(?:drawing|chart)"[\s\S]*?<\/desc>/g))
        assert.match(svg, /role="img"[\s\S]*<title[^>]*>[^<]{8,}<\/title><desc[^>]*>[^<]{20,}<\/desc>/);
    });
  });

describe("what the report says", () => {
  const html = reports["three ways"]!;
  const text = textOf(html);

  test("the same study gives the same page, byte for byte", () =>
    assert.equal(renderReport(makeFixture()), html));

  test("holds every picture the builder asked for", () => {
    for (const id of [
      "place",
      "side",
      "block",
      "slopes",
      "buildable",
      "waterfall",
      "limits",
      "premiums",
      "earth",
      "along",
      "across",
      "export-level",
      "cost-level",
      "cost-turn",
      "drive",
      "water",
      "totals",
      "drivers",
      "months",
    ])
      assert.include(html, `id="figure-${id}"`, id);
  });

  test("prints every finding with who answers it", () => {
    for (const finding of makeFixture().study.findings) {
      assert.include(text, finding.title);
      assert.include(text, finding.who);
    }
  });

  test("prints every assumption and where to change it", () => {
    for (const { name, changeWith } of makeFixture().study.assumptions) {
      assert.include(text, name);
      if (changeWith) assert.include(text, changeWith);
    }
  });

  test("numbers on page one are the study's, rounded", () => {
    // Typed in fixtures.ts: premium 352/518/784 k$, flat 1.21 M$, 41 loads (35 to 55: printed in steps of 5), 23.4 and 28.1 %, 15.3 (10.4 to 22) months, 7,450 ft².
    const page = textOf(html.slice(html.indexOf("<article"), html.indexOf("</article>")));
    for (const shown of [
      "$520,000",
      "$350,000 to $780,000",
      "$1.2 million",
      "about 40",
      "35 to 55",
      "23 %",
      "28 %",
      "15",
      "10 to 22",
      "7,450 ft²",
    ])
      assert.include(page, shown);
  });

  test("a price gap is told with both prices in it", () => {
    // 900 − 480 = 420; the premium is printed as 520, and 520 − 420 = 100 thousand: what is printed adds up.
    assert.include(text, "$420,000 below a flat lot");
    assert.include(text, "drops by about $100,000");
  });

  test("the next best way is the one whose whole job costs least, told by the whole job as the first was chosen", () => {
    const costs = (id: string, p50Usd: number, premiumUsd: number) => (s: Study["schemes"][number]) =>
      s.id === id
        ? {
            ...s,
            cost: {
              ...s.cost,
              p50Usd,
              hillsidePremiumUsd: { p10: premiumUsd - 50_000, p50: premiumUsd, p90: premiumUsd + 90_000 },
            },
          }
        : s;
    const { study, pictures } = changed((s) => {
      const best = s.recommendation.schemeId;
      const other = s.schemes.find(({ id, feasible }) => feasible && id !== best)!.id;
      // The other adds less to its own flat twin, yet costs 40 thousand more in all.
      const set = [costs(best!, 1_500_000, 300_000), costs(other, 1_540_000, 250_000)];
      return {
        schemes: s.schemes
          .filter(({ id }) => id === best || id === other)
          .map((scheme) => set.reduce((c, f) => f(c), scheme)),
      };
    });
    assert.include(textOf(renderReport({ study, pictures })), "the whole job costs about $40,000 more");
  });

  test("a study that cannot tell shows no premium on page one", () => {
    const page = reports["cannot tell"]!.slice(
      reports["cannot tell"]!.indexOf("<article"),
      reports["cannot tell"]!.indexOf("</article>"),
    );
    assert.notInclude(page, "$520,000");
    assert.include(page, "doubtful");
  });

  test("nothing is called chosen where no way is recommended", () => {
    const { study, pictures } = changed((s) => ({ recommendation: { ...s.recommendation, schemeId: null } }));
    const text = textOf(renderReport({ study, pictures }));
    assert.include(text, "The way shown");
    assert.notMatch(text, /The chosen way|, chosen/);
  });

  test("sections without content are left out", () => {
    const empty = reports["no scheme at all"]!;
    for (const id of ["chosen", "schemes", "access", "structure", "cost", "months", "findings"])
      assert.notInclude(empty, `<h2 id="${id}"`);
    for (const id of ["survey", "ground", "buildable", "assumptions", "glossary"])
      assert.include(empty, `<h2 id="${id}"`);
  });

  test("metric readers see no number of ours in feet, yards or inches", () => {
    // Numbers the report writes itself stand before a no-break space; sentences of the study keep the survey's foot.
    assert.notMatch(reports["in metric"]!, /\d\u00a0(ft|yd|cfs|in)\b/);
    assert.match(html, /\d\u00a0ft/);
    assert.match(reports["in metric"]!, /\d\u00a0m³/);
  });

  test("a variant says what was changed and what came of it, and nothing else", () => {
    const page = reports["a variant"]!;
    const section = textOf(page.slice(page.indexOf('class="changes"'), page.indexOf('class="contents"')));
    assert.match(section, /Steepest ground that counts\. 30 %\. 25 %\./);
    assert.match(section, /Ground left to build on\. 7,450 ft²\. 4,900 ft²\./);
    assert.notInclude(section, "Truckloads");
  });

  test("the form for what-if is there only where an address for it was given", () => {
    assert.include(reports["a variant"]!, '<form method="post" action="/r/abc/variants"');
    assert.include(reports["a variant"]!, 'name="rules.setbacksFt.front"');
    assert.notInclude(html, "<form");
  });

  test("a hostile name stays text", () => {
    assert.notInclude(reports["a hostile name"]!, "<script>");
    assert.include(textOf(reports["a hostile name"]!), "&lt;script&gt;");
  });

  test("marked words lead to the glossary", () => {
    const linked = [...html.matchAll(/class="term" href="#word-([^"]+)"/g)].map((m) => m[1]);
    assert.isNotEmpty(linked);
    for (const id of linked) assert.isTrue(GLOSSARY.some((g) => g.id === id));
  });
});

test("docs/glossary.md holds the glossary's words", () => {
  const doc = readFileSync(new URL("../../docs/glossary.md", import.meta.url), "utf8");
  for (const { word, meaning } of GLOSSARY) assert.include(doc, `| ${word} | ${meaning} |`);
});

test("the months page says whether grading stands still in the wet season, and from what month on", () => {
  const monthsOf = (rules: Partial<Study["request"]["rules"]>) => {
    const { study, pictures } = changed((s) => ({
      request: { ...s.request, rules: { ...s.request.rules, ...rules } },
    }));
    const html = renderReport({ study, pictures });
    return textOf(html.slice(html.indexOf('id="months"'), html.indexOf('id="findings"')));
  };
  const winter = { gradingShutdown: { fromMonth: 11, toMonth: 3 } };
  assert.include(monthsOf({ gradingShutdown: null }), "No stop of grading in the wet season is counted");
  assert.include(
    monthsOf({ ...winter, startMonth: null }),
    "Grading stands still from November to March, as you said; the month of the offer is not known",
  );
  assert.include(monthsOf({ ...winter, startMonth: 6 }), "accepted in June");
});

test("a trade-off curve hatches what a rule forbids and names the rule", () => {
  const figureOf = (id: string) => {
    const html = renderReport(makeFixture(["level-pad"]));
    return html.slice(html.indexOf(`id="figure-${id}"`)).split("</figure>")[0]!;
  };
  // the fixture breaks the wall limit at 412 and 413 ft, the two lowest of nine levels, and no rule in any direction
  const level = figureOf("cost-level");
  assert.equal(level.split('class="forbidden"').length - 1, 1);
  assert.match(textOf(level), /breaks a rule: a wall too tall/);
  const turned = figureOf("cost-turn");
  assert.notInclude(turned, 'class="forbidden"');
  assert.match(textOf(turned), /No point of it breaks a rule/);
});

test("a forbidden stretch reaches half-way to its neighbors, to the end of the curve at an end", () => {
  const points = [0, 10, 20, 30, 40].map((x) => [x, 1] as const);
  assert.deepEqual(stretchesOf(points, [true, false, true, true, false]), [
    [0, 5],
    [15, 35],
  ]);
  assert.deepEqual(stretchesOf(points, [false, false, false, false, true]), [[35, 40]]);
});

test("walls of a basement are measured in one place: the chosen way names what is in the ground, and lists none of them", () => {
  const html = renderReport(makeFixture(["daylight-basement"]));
  const section = (id: string) =>
    textOf(html.slice(html.indexOf(`aria-labelledby="${id}"`)).split("</section>")[0]!);
  assert.notMatch(section("chosen"), /Basement wall,|Wall of the house/);
  // the fixture: 104 ft in the ground, 8.4 ft of earth at the most
  assert.match(section("chosen"), /104 ft of them stand in the ground and hold up to 8\.5 ft/);
  assert.match(section("structure"), /104 ft and 60 ft/);
  assert.match(section("structure"), /Most earth held\. 8\.5 ft/);
  const stepped = renderReport(makeFixture(["stepped-pad"]));
  assert.notMatch(textOf(stepped), /walls of the basement/i);
});

test("the legend of the months shows the sign that is drawn", () => {
  const html = renderReport(makeFixture(["level-pad"]));
  const figure = html.slice(html.indexOf('id="figure-months"')).split("</figure>")[0]!;
  const signs = [...figure.matchAll(/<(\w+) class="hold"[^>]*? d="([^"]+)"/g)].map(([, name, d]) => [
    name,
    d,
  ]);
  // in the drawing and beside the words
  assert.isAtLeast(signs.length, 2);
  for (const sign of signs) assert.deepEqual(sign, signs[0]);
  assert.notInclude(figure, '<circle class="hold"');
});

test("a finding a hair past its limit says so, where both would be written alike", () => {
  const html = renderReport(
    changed((study) => ({
      findings: [3.02, 3.3].map((measured, i) => ({
        ...study.findings[0]!,
        code: `ERT-0${i}`,
        measured,
        threshold: 3,
        unit: "ft of fill under the house",
      })),
    })),
  );
  const text = textOf(html);
  assert.match(text, /found: just over 3 ft of fill under the house; compared with: 3 ft/);
  assert.match(text, /found: 3\.3 ft of fill under the house; compared with: 3 ft/);
});
