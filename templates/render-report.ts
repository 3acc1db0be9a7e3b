/** One self-contained HTML page from a study: no script, no outside request, one style element. */
import Handlebars from "handlebars";
import { loadTemplates, type TemplateTexts } from "./load-templates.js";
import { GLOSSARY, type TermId } from "./view/glossary.js";
import { type ReportInput, viewReport } from "./view/report-view.js";

export type { ReportInput } from "./view/report-view.js";

/** The report page. The same input gives the same text, byte for byte. */
export function renderReport(input: ReportInput): string {
  cached ??= compile(loadTemplates());
  return cached(viewReport(input));
}

/** The report, and the page that also asks "what if" and sends its form to `variantAction`. One view serves both: it is most of the work. */
export function renderPages(
  input: Omit<ReportInput, "variantAction">,
  variantAction: string,
): { readonly report: string; readonly share: string } {
  cached ??= compile(loadTemplates());
  const view = viewReport({ ...input, variantAction });
  return { report: cached({ ...view, whatIf: undefined }), share: cached(view) };
}

type View = ReturnType<typeof viewReport>;
let cached: ((view: View) => string) | undefined;

function compile(texts: TemplateTexts): (view: View) => string {
  const handlebars = Handlebars.create();
  for (const [name, text] of Object.entries(texts.sections)) handlebars.registerPartial(name, text);
  handlebars.registerHelper("term", (id: TermId, shown: unknown) =>
    term(id, typeof shown === "string" ? shown : undefined),
  );
  handlebars.registerHelper(
    "column-name",
    (columns: readonly string[], index: number) => columns[index + 1] ?? "",
  );
  // Line breaks of the style sheet mean nothing to a browser.
  const css = texts.css.replace(/\s*\n\s*/g, " ");
  const page = handlebars.compile(texts.report, { strict: false, preventIndent: true });
  return (view) => page({ ...view, css: css.replace('"LOT NAME"', cssString(view.name)) });
}

/** A marked word: its meaning on hover, the glossary behind a tap. */
function term(id: TermId, shown?: string): Handlebars.SafeString {
  const entry = GLOSSARY.find((g) => g.id === id);
  if (!entry) throw new RangeError(`no glossary entry "${id}"`);
  const { escapeExpression } = Handlebars;
  return new Handlebars.SafeString(
    `<a class="term" href="#word-${id}" title="${escapeExpression(entry.meaning)}">${escapeExpression(shown ?? entry.word)}</a>`,
  );
}

/** The lot's name for the running header of printed pages; every character outside letters, digits and blanks as a CSS escape. */
function cssString(text: string): string {
  return `"${text.slice(0, 80).replace(/[^\p{L}\p{N} ]/gu, (c) => `\\${c.codePointAt(0)!.toString(16)} `)}"`;
}
