/** Reads the report's template texts once, from the folder beside package.json: built code runs from another place. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export interface TemplateTexts {
  readonly report: string;
  readonly css: string;
  /** By file name without ending. */
  readonly sections: Readonly<Record<string, string>>;
}

export function loadTemplates(): TemplateTexts {
  const root = join(projectRoot(dirname(fileURLToPath(import.meta.url))), "templates");
  const read = (name: string) => readFileSync(join(root, name), "utf8");
  const files = readdirSync(join(root, "sections")).filter((name) => name.endsWith(".hbs"));
  return {
    report: read("report.hbs"),
    css: read("report.css"),
    sections: Object.fromEntries(
      files.map((name) => [name.slice(0, -".hbs".length), read(join("sections", name))]),
    ),
  };
}

function projectRoot(folder: string): string {
  if (existsSync(join(folder, "package.json"))) return folder;
  const above = dirname(folder);
  if (above === folder) throw new RangeError("no package.json above the templates");
  return projectRoot(above);
}
