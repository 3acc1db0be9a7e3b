/** Every way to build cut open down the hill, side by side at one scale. */
import { crossSection } from "../drawings/cross-section.js";
import { closeSpanFt } from "../drawings/section-frame.js";
import { type Figure, figure, type Source, schemePicture } from "./report-parts.js";
import { sectionLegend } from "./section-legend.js";
import { dugAndFilled } from "./words.js";

export function schemeSections({ study, pictures, format }: Source) {
  const shown = study.schemes.flatMap((scheme) => {
    const section = schemePicture(pictures, scheme.id)?.along;
    return section && section.stations.length > 1 && section.levels.length > 0 ? [{ scheme, section }] : [];
  });
  if (shown.length < 2) return undefined;
  const spanFt = Math.max(...shown.map(({ section }) => closeSpanFt(section)));
  return {
    figures: shown.map(({ scheme, section }): Figure => {
      const { id, name } = scheme;
      const depths = dugAndFilled(scheme, format);
      const picture = crossSection(
        {
          id: `section-${id}`,
          title: `${name}: ${depths}`,
          words: `Section of “${name}” from the high side on the left to the low side on the right, ${depths}.`,
          ends: ["high side", "low side"],
        },
        section,
        format,
        { close: true, spanFt },
      );
      return figure(picture, "");
    }),
    legend: sectionLegend(shown.map(({ section }) => section)),
  };
}
