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

/** The style elements a page brings, as a policy names them (CSP level 3, hash-source). */
export function styleHashes(html: string): string {
  return [...html.matchAll(/<style[^>]*>([\s\S]*?)<\/style>/g)]
    .map(([, css = ""]) => `'sha256-${createHash("sha256").update(css).digest("base64")}'`)
    .join(" ");
}

/**
 * The policy for a report: no style but the elements it brings, known by their hash, and no scripts; on the share page
 * the service's own script may ask "what if".
 */
export function reportPolicy(styles: string, { scripts }: { scripts: boolean }): string {
  const directives: Readonly<Record<string, readonly string[]>> = {
    ...PAGE_POLICY,
    "script-src": [scripts ? "'self'" : "'none'"],
    "style-src": ["'self'", styles],
    "connect-src": [scripts ? "'self'" : "'none'"],
  };
  return Object.entries(directives)
    .map(([name, values]) => `${name} ${values.join(" ")}`)
    .join("; ");
}
