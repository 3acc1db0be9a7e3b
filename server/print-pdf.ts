/** Prints a report with a Chromium the operator named. */
import { execFile } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { HttpProblem } from "./errors.js";

const run = promisify(execFile);
const SECONDS = 60;
/** Chromium takes some 300 MB; more at once would starve the studies. */
const AT_ONCE = 2;
let printing = 0;

/** @throws {HttpProblem} 503 when too many are being printed. */
export async function printPdf(chromium: string, html: string): Promise<Buffer> {
  if (printing >= AT_ONCE)
    throw new HttpProblem("busy", "Other reports are being printed.", { headers: { "retry-after": "10" } });
  printing++;
  const folder = await mkdtemp(join(tmpdir(), "lotbrief-"));
  try {
    const [page, pdf] = [join(folder, "report.html"), join(folder, "report.pdf")];
    await writeFile(page, html);
    await run(
      chromium,
      [
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--no-first-run",
        `--user-data-dir=${join(folder, "profile")}`,
        "--no-pdf-header-footer",
        `--print-to-pdf=${pdf}`,
        `file://${page}`,
      ],
      { timeout: SECONDS * 1000 },
    );
    return await readFile(pdf);
  } finally {
    printing--;
    await rm(folder, { recursive: true, force: true });
  }
}
