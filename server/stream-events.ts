/** Server-sent events: looks at the state a few times a second, sends what changed, ends when it has ended. */
import type { FastifyReply, FastifyRequest } from "fastify";

/** Fast enough to feel alive, slow enough for the database. */
const LOOK_MS = 250;
const KEEP_ALIVE_MS = 15_000;
const LONGEST_MS = 15 * 60_000;

export async function streamEvents(
  request: FastifyRequest,
  reply: FastifyReply,
  look: () => Promise<{ readonly data: unknown; readonly ended: boolean }>,
): Promise<void> {
  const { raw } = reply;
  reply.hijack();
  raw.writeHead(200, {
    ...(reply.getHeaders() as Record<string, string>),
    "content-type": "text/event-stream; charset=utf-8",
    "cache-control": "no-store",
    "x-accel-buffering": "no",
  });
  let open = true;
  request.raw.on("close", () => {
    open = false;
  });
  let sent = "";
  let sentAt = Date.now();
  const until = Date.now() + LONGEST_MS;
  while (open && Date.now() < until) {
    const { data, ended } = await look().catch(() => ({ data: null, ended: true }));
    const text = JSON.stringify(data);
    if (text !== sent || ended) {
      raw.write(`event: ${ended ? "done" : "progress"}\ndata: ${text}\n\n`);
      sent = text;
      sentAt = Date.now();
    } else if (Date.now() - sentAt > KEEP_ALIVE_MS) {
      raw.write(": still here\n\n");
      sentAt = Date.now();
    }
    if (ended) break;
    await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
  }
  raw.end();
}
