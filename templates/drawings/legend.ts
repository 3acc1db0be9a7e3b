/** Small samples that say what a line or a hatching means. */
import { el } from "./svg.js";

export interface LegendEntry {
  readonly sample: string;
  readonly words: string;
}

const W = 34;
const H = 16;
/** A diamond about the origin, in charts and in their legends. */
export const DIAMOND = "M0-7L6 0L0 7L-6 0Z";

const sample = (inner: string) =>
  el("svg", { class: "sample", viewBox: `0 0 ${W} ${H}`, width: W, height: H, "aria-hidden": "true" }, inner);

export const areaSample = (pattern: string, className: string): string =>
  sample(el("rect", { class: className, fill: `url(#${pattern})`, x: 1, y: 1, width: W - 2, height: H - 2 }));
export const plainSample = (className: string): string =>
  sample(el("rect", { class: className, x: 1, y: 1, width: W - 2, height: H - 2 }));
export const lineSample = (...classNames: string[]): string =>
  sample(classNames.map((c) => el("path", { class: c, d: `M1 ${H / 2}H${W - 1}` })).join(""));
export const dotSample = (className: string): string =>
  sample(el("circle", { class: className, cx: W / 2, cy: H / 2, r: 3.4 }));
export const crossSample = (className: string): string =>
  sample(el("path", { class: className, d: `M${W / 2 - 6} ${H / 2 - 6}l12 12m0-12l-12 12` }));
export const diamondSample = (className: string): string =>
  sample(el("path", { class: className, transform: `translate(${W / 2} ${H / 2})`, d: DIAMOND }));
