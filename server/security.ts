/** What a browser may load and run on our pages: nothing inline but a report's own style, nothing from elsewhere. */
import { createHash } from "node:crypto";

export const PAGE_POLICY = {
  "default-src": ["'none'"],
  "script-src": ["'self'"],
  "style-src": ["'self'"],
  "img-src": ["'self'", "data:"],
  "connect-src": ["'self'"],
  "form-action": ["'self'"],
  "base-uri": ["'none'"],
  "frame-ancestors": ["'none'"],
};

/** The policy for a report: no scripts, and no style but the elements it brings, known by their hash. */
export function reportPolicy(html: string): string {
  const hashes = [...html.matchAll(/<style[^>]*>([\s\S]*?)<\/style>/g)].map(
    ([, css = ""]) => `'sha256-${createHash("sha256").update(css).digest("base64")}'`,
  );
  const directives: Readonly<Record<string, readonly string[]>> = {
    ...PAGE_POLICY,
    "script-src": ["'none'"],
    "style-src": ["'self'", ...hashes],
    "connect-src": ["'none'"],
  };
  return Object.entries(directives)
    .map(([name, values]) => `${name} ${values.join(" ")}`)
    .join("; ");
}
