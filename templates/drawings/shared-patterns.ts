/** Hatchings used by every drawing and legend of a page, drawn once. Colours come from report.css. */
import { el } from "./svg.js";

const tile = (id: string, size: number, ground: string, marks: string, turn = 0) =>
  el(
    "pattern",
    {
      id,
      width: size,
      height: size,
      patternUnits: "userSpaceOnUse",
      patternTransform: turn ? `rotate(${turn})` : undefined,
    },
    el("rect", { width: size, height: size, class: ground }) + marks,
  );

/** Strokes of a band stand closer the steeper the ground. */
const BAND_GAPS_PX = [0, 0, 12, 9, 7, 5, 3.6] as const;

export function sharedPatterns(): string {
  const bands = BAND_GAPS_PX.map((gap, i) =>
    tile(
      `band-${i}`,
      gap || 10,
      `tone-${i}`,
      gap ? el("path", { class: "band-stroke", d: `M0 0V${gap}` }) : "",
      24,
    ),
  );
  const patterns = [
    ...bands,
    tile(
      "build-ground",
      9,
      "tone-build",
      el("circle", { class: "build-dot", cx: 2.5, cy: 2.5, r: 0.9 }) +
        el("circle", { class: "build-dot", cx: 7, cy: 7, r: 0.9 }),
    ),
    tile("not-surveyed", 10, "tone-none", el("path", { class: "unknown-stroke", d: "M0 5H6" }), 45),
    tile("no-build", 8, "tone-none", el("path", { class: "no-build-stroke", d: "M0 4H8M4 0V8" }), 45),
    tile("cut", 6, "tone-cut", el("path", { class: "cut-stroke", d: "M0 0V6" }), 45),
    tile(
      "fill",
      7,
      "tone-fill",
      el("circle", { class: "fill-dot", cx: 2, cy: 2, r: 1.1 }) +
        el("circle", { class: "fill-dot", cx: 5.5, cy: 5.5, r: 1.1 }),
    ),
    tile("sheds", 12, "tone-water", el("path", { class: "water-stroke", d: "M0 4Q3 1 6 4T12 4" })),
    tile("bite", 6, "tone-bite", el("path", { class: "bite-stroke", d: "M0 0V6" }), -45),
    tile("range", 5, "tone-range", el("path", { class: "range-stroke", d: "M0 0V5" }), 60),
    tile("months-before", 6, "tone-before", el("path", { class: "before-stroke", d: "M0 0V6" }), 45),
    tile("months-ground", 5, "tone-ground", el("path", { class: "ground-stroke", d: "M0 2.5H5" })),
    tile("months-below", 5, "tone-ground", el("path", { class: "ground-stroke", d: "M0 2.5H5M2.5 0V5" })),
  ];
  return el(
    "svg",
    { class: "shared-patterns", width: 0, height: 0, "aria-hidden": "true", focusable: "false" },
    el("defs", {}, patterns.join("")),
  );
}
