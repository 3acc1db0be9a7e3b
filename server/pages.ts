/** The service's own pages, from templates/pages. */
import { readdirSync, readFileSync } from "node:fs";
import Handlebars from "handlebars";
import type { ProblemDocument } from "./errors.js";
import { rootPath } from "./root.js";

const FOLDER = rootPath("templates/pages");
const LAYOUT = "layout";

const handlebars = Handlebars.create();
const pages = new Map<string, HandlebarsTemplateDelegate>();
for (const file of readdirSync(FOLDER).filter((name) => name.endsWith(".hbs"))) {
  const name = file.slice(0, -".hbs".length);
  const text = readFileSync(`${FOLDER}/${file}`, "utf8");
  if (name.startsWith("part-")) handlebars.registerPartial(name.slice("part-".length), text);
  else pages.set(name, handlebars.compile(text, { strict: false, preventIndent: true }));
}
handlebars.registerHelper("same", (a: unknown, b: unknown) => a === b);

export interface PageFrame {
  readonly title: string;
  /** Scripts of the page, from templates/pages/assets. */
  readonly scripts?: readonly string[];
  /** Wide pages use the whole window. */
  readonly wide?: boolean;
  readonly builder?: boolean;
}

/** A whole page: the named template inside the layout. Everything in `view` is escaped by the templates. */
export function renderPage(name: string, frame: PageFrame, view: object): string {
  const page = pages.get(name);
  const layout = pages.get(LAYOUT);
  if (!page || !layout) throw new RangeError(`no page ${name}`);
  return layout({ ...frame, body: page(view) });
}

export function problemPage(problem: ProblemDocument): string {
  return renderPage("problem", { title: problem.title }, problem);
}
