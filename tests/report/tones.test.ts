/** Colours of the report: contrast of text, and order of lightness for readers without colour. */
import { readFileSync } from "node:fs";
import { assert, describe, test } from "vitest";

const css = readFileSync(new URL("../../templates/report.css", import.meta.url), "utf8");
const night = css.slice(css.indexOf("prefers-color-scheme: dark"));
const tone = (name: string, where = css): string => {
  const value = where.match(new RegExp(`--${name}: (#[0-9a-f]{6})`))?.[1];
  if (!value) throw new Error(`no tone ${name}`);
  return value;
};

/** Relative luminance, WCAG 2.2. */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((i) => {
    const c = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

test("black on white is 21 to 1", () => assert.closeTo(contrast("#000000", "#ffffff"), 21, 1e-9));

describe("text tones reach 4.5 to 1 on paper and on drawings (WCAG 2.2, 1.4.3)", () => {
  for (const ink of ["ink", "ink-soft", "umber", "sage", "plum", "water"])
    for (const ground of ["paper", "sheet"])
      test(`${ink} on ${ground}`, () => assert.isAtLeast(contrast(tone(ink), tone(ground)), 4.5));
});

describe("and on the page at night", () => {
  for (const ink of ["ink", "ink-soft", "umber", "sage", "plum", "water"])
    test(ink, () => assert.isAtLeast(contrast(tone(ink, night), tone("paper", night)), 4.5));
});

test("each slope tone is clearly darker than the one before, in grey", () => {
  for (let i = 1; i <= 6; i++)
    assert.isAtLeast(contrast(tone(`tone-${i - 1}`), tone(`tone-${i}`)), 1.12, `tone ${i}`);
});

test("dug and filled differ where red-green vision fails: one warm, one cold", () => {
  const blueness = (hex: string) =>
    Number.parseInt(hex.slice(5, 7), 16) - Number.parseInt(hex.slice(1, 3), 16);
  assert.isBelow(blueness(tone("cut-deep")), -60);
  assert.isAbove(blueness(tone("fill-deep")), 60);
});
