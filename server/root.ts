/** Where the project's own files lie, whether this runs from source or from dist/. */
import { fileURLToPath } from "node:url";

const fromSource = import.meta.url.endsWith(".ts");

const root = new URL(fromSource ? "../" : "../../", import.meta.url);

/** Absolute path of a file of the project, e.g. `rootPath("demo-data/cost-book.json")`. */
export function rootPath(relative: string): string {
  return fileURLToPath(new URL(relative, root));
}

/** The module of a thread: the `.ts` beside this file under tsx and vitest, the built `.js` otherwise. */
export function threadModule(name: string): { url: string; execArgv: string[] } {
  return {
    url: new URL(`./${name}${fromSource ? ".ts" : ".js"}`, import.meta.url).href,
    execArgv: fromSource ? ["--import", "tsx"] : [],
  };
}
