/** Settings from the environment, checked at start; docs/operating.md lists them. */
import { z } from "zod";
import { rootPath } from "./root.js";

const whole = (least: number, most: number) => z.coerce.number().int().min(least).max(most);
const yesNo = z.enum(["yes", "no"]).transform((v) => v === "yes");
const list = z.string().transform((v) =>
  v
    .split(",")
    .map((s) => s.trim())
    .filter(Boolean),
);

const environment = z.object({
  HOST: z.string().min(1).default("127.0.0.1"),
  PORT: whole(0, 65_535).default(8080),
  LOTBRIEF_DATA: z.string().min(1).default(rootPath("data")),
  DATABASE_URL: z
    .string()
    .regex(/^postgres(ql)?:\/\//, "must start with postgres:// or postgresql://")
    .optional(),
  LOTBRIEF_KEY: z.string().min(16, "must have at least 16 characters").max(200).optional(),
  LOTBRIEF_PUBLIC_URL: z.url({ protocol: /^https?$/, error: "must be an http or https address" }).optional(),
  LOTBRIEF_THREADS: whole(1, 64).optional(),
  LOTBRIEF_STUDY_SECONDS: whole(1, 3600).default(120),
  LOTBRIEF_UPLOAD_MB: whole(1, 1024).default(128),
  LOTBRIEF_ANSWER_MB: whole(1, 1024).default(64),
  LOTBRIEF_REQUESTS_PER_MINUTE: whole(1, 1_000_000).default(600),
  LOTBRIEF_RETENTION_DAYS: whole(0, 36_500).default(0),
  LOTBRIEF_WEBHOOK_HOSTS: list.default([]),
  LOTBRIEF_CORS_ORIGINS: list.default([]),
  LOTBRIEF_TRUST_PROXY: yesNo.default(false),
  LOTBRIEF_WORK_HERE: yesNo.default(true),
  LOTBRIEF_WARM_UP: yesNo.default(true),
  LOTBRIEF_LOG: z.enum(["fatal", "error", "warn", "info", "debug", "silent"]).default("info"),
  CHROMIUM_PATH: z.string().min(1).optional(),
});

export interface Config {
  readonly host: string;
  readonly port: number;
  readonly dataFolder: string;
  readonly databaseUrl: string | null;
  readonly key: string | null;
  /** Scheme and host the outside sees, for absolute links; null: relative links only. */
  readonly publicUrl: string | null;
  /** Worker threads; null: one per core. */
  readonly threads: number | null;
  readonly studySeconds: number;
  readonly uploadBytes: number;
  /** Surveys larger than this are answered with 202 and a job. */
  readonly answerBytes: number;
  readonly requestsPerMinute: number;
  /** Studies older than this are deleted; 0: never. */
  readonly retentionDays: number;
  readonly webhookHosts: readonly string[];
  readonly corsOrigins: readonly string[];
  readonly trustProxy: boolean;
  /** False: this process only answers HTTP, jobs are left to `npm run worker`. */
  readonly workHere: boolean;
  /** Threads study an invented lot after the start, so that the first real study finds them ready. */
  readonly warmUp: boolean;
  readonly log: "fatal" | "error" | "warn" | "info" | "debug" | "silent";
  readonly chromiumPath: string | null;
}

/** @throws {Error} naming every setting that is wrong and what it must be. */
export function readConfig(env: Readonly<Record<string, string | undefined>>): Config {
  const given = Object.fromEntries(
    Object.entries(env).filter(([, value]) => value !== undefined && value !== ""),
  );
  const read = environment.safeParse(given);
  if (!read.success)
    throw new Error(
      `The settings cannot be used:\n${read.error.issues
        .map((issue) => `  ${issue.path.join(".")} ${issue.message}`)
        .join("\n")}`,
    );
  const e = read.data;
  return {
    host: e.HOST,
    port: e.PORT,
    dataFolder: e.LOTBRIEF_DATA,
    databaseUrl: e.DATABASE_URL ?? null,
    key: e.LOTBRIEF_KEY ?? null,
    publicUrl: e.LOTBRIEF_PUBLIC_URL?.replace(/\/+$/, "") ?? null,
    threads: e.LOTBRIEF_THREADS ?? null,
    studySeconds: e.LOTBRIEF_STUDY_SECONDS,
    uploadBytes: e.LOTBRIEF_UPLOAD_MB * 1024 * 1024,
    answerBytes: e.LOTBRIEF_ANSWER_MB * 1024 * 1024,
    requestsPerMinute: e.LOTBRIEF_REQUESTS_PER_MINUTE,
    retentionDays: e.LOTBRIEF_RETENTION_DAYS,
    webhookHosts: e.LOTBRIEF_WEBHOOK_HOSTS,
    corsOrigins: e.LOTBRIEF_CORS_ORIGINS,
    trustProxy: e.LOTBRIEF_TRUST_PROXY,
    workHere: e.LOTBRIEF_WORK_HERE,
    warmUp: e.LOTBRIEF_WARM_UP,
    log: e.LOTBRIEF_LOG,
    chromiumPath: e.CHROMIUM_PATH ?? null,
  };
}
