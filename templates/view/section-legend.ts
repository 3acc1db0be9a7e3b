/** What the marks of a section mean: only those that are drawn in it. */
import type { Section } from "../../analysis/pictures/pictures.js";
import { areaSample, dotSample, type LegendEntry, lineSample, plainSample } from "../drawings/legend.js";

export function sectionLegend(sections: readonly Section[]): LegendEntry[] {
  const some = (drawn: (section: Section) => boolean) => sections.some(drawn);
  const graded = (side: 1 | -1) =>
    some(({ stations }) =>
      stations.some(
        (s) => s.groundFt !== null && s.designFt !== null && side * (s.groundFt - s.designFt) > 0.2,
      ),
    );
  const entry = (drawn: boolean, sample: string, words: string) => (drawn ? [{ sample, words }] : []);
  const piers = some((s) => s.piers.length > 0);
  return [
    ...entry(graded(1), areaSample("cut", "cut"), "dug"),
    ...entry(graded(-1), areaSample("fill", "fill"), "filled"),
    ...entry(true, lineSample("ground-before"), "natural ground"),
    ...entry(true, lineSample("ground-line"), "finished ground"),
    ...entry(piers, plainSample("section-pier"), "pier"),
    ...entry(piers, plainSample("section-beam"), "grade beam"),
    ...entry(
      some((s) => s.drains.length > 0),
      dotSample("section-drain"),
      "drain",
    ),
    ...entry(
      some((s) => s.wells.length > 0),
      plainSample("well"),
      "light well",
    ),
    ...entry(
      some((s) => s.temporary.length > 0),
      lineSample("temporary"),
      "open cut while building",
    ),
  ];
}
