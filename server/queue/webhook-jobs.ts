/** Tells the caller's own service that a comparison has ended: signed, and only to hosts the operator allows. */
import { createHmac } from "node:crypto";
import { comparisonStatus } from "../comparison-answer.js";
import type { Deps } from "../deps.js";
import type { QueuedJob } from "./queue.js";

const SECONDS = 10;

export async function announce({ store, queue }: Pick<Deps, "store" | "queue">, id: string): Promise<void> {
  await queue.send("webhook", [{ comparison: id }], store.db.query);
  queue.wake("webhook");
}

/** Throws when the other side does not take it: the queue tries again, later each time. */
export async function workWebhookJob(
  { store, config }: Pick<Deps, "store" | "config">,
  { data }: QueuedJob,
): Promise<void> {
  const id = String(data.comparison);
  const comparison = await store.comparisons.byId(id);
  if (!comparison?.webhook || !mayCall(comparison.webhook.url, config.webhookHosts)) return;
  const counts = await store.comparisons.counts(id);
  const self = `/v1/comparisons/${id}`;
  const body = JSON.stringify({
    id,
    name: comparison.name,
    status: comparisonStatus(comparison, counts),
    progress: { done: counts.done, failed: counts.failed, total: counts.total },
    links: { self, report: `${self}/report`, table: `${self}/table.csv` },
  });
  const answer = await fetch(comparison.webhook.url, {
    method: "POST",
    body,
    redirect: "error",
    signal: AbortSignal.timeout(SECONDS * 1000),
    headers: {
      "content-type": "application/json",
      "lotbrief-signature": signature(comparison.webhook.secret, body, Math.floor(Date.now() / 1000)),
    },
  });
  await answer.body?.cancel();
  if (!answer.ok) throw new Error(`the webhook answered ${answer.status}`);
}

/** `t=UNIX SECONDS,sha256=HEX`: HMAC-SHA256 (RFC 2104) of "UNIX SECONDS.BODY" with the caller's secret. */
export function signature(secret: string, body: string, unixSeconds: number): string {
  const hex = createHmac("sha256", secret).update(`${unixSeconds}.${body}`).digest("hex");
  return `t=${unixSeconds},sha256=${hex}`;
}

/** Exact host names, with the port where it is not the scheme's own. */
export function mayCall(url: string, hosts: readonly string[]): boolean {
  if (!URL.canParse(url)) return false;
  const { protocol, host, username, password } = new URL(url);
  return (
    (protocol === "https:" || protocol === "http:") &&
    username === "" &&
    password === "" &&
    hosts.includes(host)
  );
}
