/** Page one read by somebody who has never built: short sentences, short words, none of the trade's own. */
import { assert, describe, test } from "vitest";
import { renderReport } from "../../templates/render-report.js";
import { fallOfLot } from "../../templates/view/words.js";
import { makeFixture } from "./fixtures.js";
import { textOf } from "./page-text.js";
import { gradeLevel, sentencesOf, TRADE_WORDS } from "./reading-level.js";

/** Words nobody should say of a slope nobody stood on. */
const PROMISES =
  /\b(safe|stable|unstable|suitable|compliant|approved|guaranteed?|estimated?|quote|engineer-grade|adequate)\b/i;

function pageOneOf(html: string): string {
  return html.slice(html.indexOf("<article"), html.indexOf("</article>"));
}

test("the formula grades a known text as its authors would", () => {
  // Hand count: 2 sentences, 12 words, 12 syllables: 0.39 · 6 + 11.8 − 15.59.
  assert.closeTo(
    gradeLevel("The dog ran to the red barn. It sat in the sun. "),
    0.39 * 6 + 11.8 - 15.59,
    0.01,
  );
});

test("a lot falls toward a wind, but level ground toward none", () => {
  assert.equal(fallOfLot({ aspectDeg: 182, meanSlopePct: 12 }), "The ground falls toward the south");
  assert.equal(fallOfLot({ aspectDeg: 350, meanSlopePct: 12 }), "The ground falls toward the north");
  assert.equal(fallOfLot({ aspectDeg: 180, meanSlopePct: 0 }), "The ground is nearly level");
});

describe("page one", () => {
  const page = pageOneOf(renderReport(makeFixture()));
  const text = textOf(page);

  test("is at the reading level of eighth grade or below", () =>
    assert.isAtMost(gradeLevel(sentencesOf(text)), 8));
  test("has sentences of twenty words or fewer on average", () => {
    const sentences = text.split(/[.!?]+\s/).filter((s) => /[a-z]/i.test(s));
    const words = text.match(/[A-Za-z][A-Za-z'’-]*/g) ?? [];
    assert.isAtMost(words.length / sentences.length, 20);
  });
  test("uses no word of the trade", () => {
    // The name of a scheme may hold one; it is quoted there.
    assert.notMatch(text.replace(/“[^”]*”/g, ""), TRADE_WORDS);
  });
  test("fits the eye: five numbers, three reasons, three unknowns", () => {
    assert.lengthOf(page.match(/class="likely"/g)!, 5);
    assert.lengthOf(page.match(/<dt>/g)!, 5);
    const lists = [...page.matchAll(/<ol>([\s\S]*?)<\/ol>/g)].map((m) => m[1]!.match(/<li>/g)!.length);
    assert.deepEqual(lists, [3, 3]);
  });
});

test("no page promises anything", () => assert.notMatch(textOf(renderReport(makeFixture())), PROMISES));
