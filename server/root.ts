/** Where the project's own files lie, whether this runs from source or from dist/. */
import { createRequire } from "node:module";
import { fileURLToPath, pathToFileURL } from "node:url";

const fromSource = import.meta.url.endsWith(".ts");

const root = new URL(fromSource ? "../" : "../../", import.meta.url);

/** Absolute path of a file of the project, e.g. `rootPath("demo-data/cost-book.json")`. */
export function rootPath(relative: string): string {
  return fileURLToPath(new URL(relative, root));
}

/** The module of a thread: the `.ts` under tsx and vitest, the built `.js` otherwise. */
export function threadModule(name: string): { url: string; execArgv: string[] } {
  const url = new URL(`./${name}${fromSource ? ".ts" : ".js"}`, import.meta.url).href;
  if (!fromSource) return { url, execArgv: [] };
  // `--import tsx` does not reach threads on Node 20: its loader has to be registered inside each.
  const tsx = pathToFileURL(createRequire(import.meta.url).resolve("tsx/esm/api")).href.replace(
    /\.cjs$/,
    ".mjs",
  );
  const register = `import { register } from ${JSON.stringify(tsx)}; register();`;
  return { url, execArgv: ["--import", `data:text/javascript,${encodeURIComponent(register)}`] };
}
