/** Counters in Prometheus text format (version 0.0.4). Routes are patterns, never paths: no id, no token, no person. */
import type { FastifyInstance } from "fastify";

/** Upper edges of the histogram, seconds: from a page to a study of a million points. */
const EDGES = [0.01, 0.05, 0.1, 0.5, 1, 2, 5, 10, 30, 120];

interface Series {
  count: number;
  sum: number;
  readonly under: number[];
}

export interface Metrics {
  readonly text: (gauges: Readonly<Record<string, { help: string; value: number }>>) => string;
}

export function registerMetrics(app: FastifyInstance): Metrics {
  const answers = new Map<string, number>();
  const seconds = new Map<string, Series>();

  app.addHook("onResponse", async (request, reply) => {
    const route = request.routeOptions.url ?? "none";
    const counted = `method="${request.method}",route="${route}",status="${reply.statusCode}"`;
    answers.set(counted, (answers.get(counted) ?? 0) + 1);
    const timed = `method="${request.method}",route="${route}"`;
    const series = seconds.get(timed) ?? { count: 0, sum: 0, under: EDGES.map(() => 0) };
    const took = reply.elapsedTime / 1000;
    series.count++;
    series.sum += took;
    EDGES.forEach((edge, i) => {
      if (took <= edge) series.under[i]!++;
    });
    seconds.set(timed, series);
  });

  return {
    text: (gauges) => {
      const lines = [
        "# HELP lotbrief_answers_total Answers by route and status.",
        "# TYPE lotbrief_answers_total counter",
        ...[...answers].map(([labels, count]) => `lotbrief_answers_total{${labels}} ${count}`),
        "# HELP lotbrief_answer_seconds Time from request to answer.",
        "# TYPE lotbrief_answer_seconds histogram",
        ...[...seconds].flatMap(([labels, { count, sum, under }]) => [
          ...EDGES.map((edge, i) => `lotbrief_answer_seconds_bucket{${labels},le="${edge}"} ${under[i]}`),
          `lotbrief_answer_seconds_bucket{${labels},le="+Inf"} ${count}`,
          `lotbrief_answer_seconds_sum{${labels}} ${sum}`,
          `lotbrief_answer_seconds_count{${labels}} ${count}`,
        ]),
        ...Object.entries(gauges).flatMap(([name, { help, value }]) => [
          `# HELP ${name} ${help}`,
          `# TYPE ${name} gauge`,
          `${name} ${value}`,
        ]),
      ];
      return `${lines.join("\n")}\n`;
    },
  };
}
