/** Every error leaves as RFC 9457 problem details: JSON for programs, a page for browsers. */
import type {
  FastifyError,
  FastifyInstance,
  FastifyReply,
  FastifyRequest,
  FastifySchemaCompiler,
} from "fastify";
import { safeParse, type z } from "zod";
import { wantsHtml } from "./accept.js";
import { type FieldError, fieldErrors } from "./field-errors.js";
import { PROBLEM_TYPES, type ProblemSlug } from "./problem-types.js";

export interface ProblemDocument {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly instance: string;
  readonly errors: readonly FieldError[];
}

/** Thrown by handlers; the error handler writes it out. */
export class HttpProblem extends Error {
  readonly slug: ProblemSlug;
  readonly errors: readonly FieldError[];
  readonly headers: Readonly<Record<string, string>>;

  constructor(
    slug: ProblemSlug,
    detail: string,
    { errors = [], headers = {} }: { errors?: readonly FieldError[]; headers?: Record<string, string> } = {},
  ) {
    super(detail);
    this.slug = slug;
    this.errors = errors;
    this.headers = headers;
  }

  get status(): number {
    return PROBLEM_TYPES[this.slug].status;
  }
}

export const notFound = (what: string) =>
  new HttpProblem(
    "not-found",
    `${what} was not found. It may have been deleted, or the address is mistyped.`,
  );

/** Bad values in a body, from the schema that refused them. */
export function badValues(error: z.core.$ZodError, schema: z.core.$ZodType, where = ""): HttpProblem {
  const errors = fieldErrors(error.issues, schema, where);
  return new HttpProblem("bad-values", summary(errors), { errors });
}

export function summary(errors: readonly FieldError[]): string {
  const [first] = errors;
  if (!first) return "No more is known.";
  const more = errors.length - 1;
  return `${first.where ? `${first.where}: ` : ""}${first.message}${more > 0 ? ` (and ${more} more)` : ""}`;
}

export function problemDocument(problem: HttpProblem, instance: string): ProblemDocument {
  return {
    type: `/problems/${problem.slug}`,
    title: PROBLEM_TYPES[problem.slug].title,
    status: problem.status,
    detail: problem.message,
    instance,
    errors: problem.errors,
  };
}

/** Checks every part of a request with the zod schema of its route; what it refuses is a problem at once. */
export const validatorCompiler: FastifySchemaCompiler<z.core.$ZodType> = ({ schema, httpPart }) => {
  return (data) => {
    const read = safeParse(schema, data);
    if (read.success) return { value: read.data };
    if (httpPart === "body" || httpPart === undefined) return { error: badValues(read.error, schema) };
    const part = { querystring: "query", params: "path", headers: "header" }[httpPart] ?? httpPart;
    const errors = fieldErrors(read.error.issues, schema, part);
    return { error: new HttpProblem("bad-request", summary(errors), { errors }) };
  };
};

/** Renders a problem for a person; set by the pages, so that errors need no templates of their own. */
export type ProblemPage = (problem: ProblemDocument) => string;

export function sendProblem(
  request: FastifyRequest,
  reply: FastifyReply,
  problem: HttpProblem,
  problemPage: ProblemPage,
) {
  const document = problemDocument(
    problem,
    problem.status >= 500 ? `${request.url.split("?")[0]}#${request.id}` : request.url.split("?")[0]!,
  );
  reply.code(problem.status).headers(problem.headers).header("cache-control", "no-store");
  if (problem.slug === "key-needed") reply.header("www-authenticate", 'Bearer realm="lotbrief"');
  if (wantsHtml(request)) return reply.type("text/html; charset=utf-8").send(problemPage(document));
  return reply.type("application/problem+json").serializer(JSON.stringify).send(document);
}

export function registerErrors(app: FastifyInstance, problemPage: ProblemPage): void {
  const routes: { method: string; pattern: RegExp }[] = [];
  app.addHook("onRoute", ({ method, url }) => {
    const pattern = new RegExp(
      `^${url
        .replace(/[.+^$()|[\]\\]/g, "\\$&")
        .replace(/:\w+/g, "[^/]+")
        .replace(/\*/g, ".*")}$`,
    );
    for (const one of [method].flat()) routes.push({ method: one, pattern });
  });
  const methodsAt = (path: string) => [
    ...new Set(routes.filter(({ pattern }) => pattern.test(path)).map(({ method }) => method)),
  ];

  const send = (request: FastifyRequest, reply: FastifyReply, problem: HttpProblem) =>
    sendProblem(request, reply, problem, problemPage);

  app.setErrorHandler((error: FastifyError | HttpProblem, request, reply) => {
    const problem = asProblem(error, request);
    if (problem.slug === "our-fault") request.log.error({ err: error }, "unexpected error");
    return send(request, reply, problem);
  });

  app.setNotFoundHandler((request, reply) => {
    const path = request.url.split("?")[0]!;
    const allowed = methodsAt(path);
    if (allowed.length > 0 && !allowed.includes(request.method) && request.method !== "OPTIONS")
      return send(
        request,
        reply,
        new HttpProblem("method-not-allowed", `${path} takes ${allowed.join(", ")}, not ${request.method}.`, {
          headers: { allow: allowed.join(", ") },
        }),
      );
    return send(request, reply, notFound(path));
  });
}

function asProblem(error: FastifyError | HttpProblem, request: FastifyRequest): HttpProblem {
  if (error instanceof HttpProblem) return error;
  switch (error.code) {
    case "FST_ERR_CTP_INVALID_JSON_BODY":
    case "FST_ERR_CTP_EMPTY_JSON_BODY":
      return badJson("body", error.message);
    case "FST_ERR_CTP_BODY_TOO_LARGE":
    case "FST_REQ_FILE_TOO_LARGE":
      return new HttpProblem("too-large", "The body is larger than this service takes.", {
        errors: [
          {
            where: "body",
            message: "It is larger than the limit.",
            remedy:
              "Send fewer points: those within some 100 ft of the lot are enough. Or compress nothing and split nothing: one survey, one file.",
          },
        ],
      });
    case "FST_ERR_CTP_INVALID_MEDIA_TYPE":
    case "FST_INVALID_MULTIPART_CONTENT_TYPE":
      return wrongMediaType(request);
    case "FST_PARTS_LIMIT":
    case "FST_FILES_LIMIT":
    case "FST_FIELDS_LIMIT":
    case "FST_PROTO_VIOLATION":
      return new HttpProblem("bad-upload", error.message, {
        errors: [
          {
            where: "body",
            message: error.message,
            remedy: "Send each file once, and nothing beside the fields named in /docs/api.",
          },
        ],
      });
    default:
  }
  const { statusCode } = error;
  if (statusCode === 429) return new HttpProblem("too-many-requests", error.message);
  if (statusCode === 503)
    return new HttpProblem("busy", "Too much work is waiting. Try again in a few seconds.", {
      headers: { "retry-after": "5" },
    });
  if (statusCode !== undefined && statusCode >= 400 && statusCode < 500)
    return error instanceof SyntaxError
      ? badJson("body", error.message)
      : new HttpProblem("bad-request", error.message, {
          errors: [{ where: "request", message: error.message, remedy: "Compare with /docs/api." }],
        });
  return new HttpProblem(
    "our-fault",
    "The request was not at fault. It was logged; tell the operator the number in `instance`.",
  );
}

export function badJson(where: string, message: string): HttpProblem {
  return new HttpProblem("bad-json", `${where}: ${message}`, {
    errors: [
      {
        where,
        message,
        remedy:
          "Check commas, quotes and brackets near the place named; a JSON text holds one value and no comments.",
      },
    ],
  });
}

export function wrongMediaType(
  request: FastifyRequest,
  sent = `Content-Type ${request.headers["content-type"] ?? "nothing"}`,
): HttpProblem {
  return new HttpProblem(
    "wrong-media-type",
    `${sent} was sent; this route takes application/json or, for uploads, multipart/form-data.`,
    {
      errors: [
        {
          where: `header ${sent.split(" ")[0]!.toLowerCase()}`,
          message: `${sent} is not taken here.`,
          remedy:
            "With curl, send files with -F topo=@topo.csv -F boundary=@boundary.csv, or JSON with -H 'content-type: application/json'.",
        },
      ],
    },
  );
}
