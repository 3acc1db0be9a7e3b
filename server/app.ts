/** The service: every plugin and every route is registered here, by name. */
import helmet from "@fastify/helmet";
import multipart from "@fastify/multipart";
import rateLimit from "@fastify/rate-limit";
import Fastify, { type FastifyInstance, LogController } from "fastify";
import { registerCors } from "./cors.js";
import type { Deps } from "./deps.js";
import { registerErrors, sendProblem, validatorCompiler } from "./errors.js";
import { registerLog } from "./log.js";
import { registerMetrics } from "./metrics.js";
import { registerOpenApi } from "./openapi.js";
import { problemPage } from "./pages.js";
import { registerComparisons } from "./routes/comparisons.js";
import { registerInbox } from "./routes/inbox.js";
import { registerJobs } from "./routes/jobs.js";
import { registerOperations } from "./routes/operations.js";
import { registerPages } from "./routes/pages.js";
import { registerReference } from "./routes/reference.js";
import { registerSaved } from "./routes/saved.js";
import { registerShare } from "./routes/share.js";
import { registerStudies } from "./routes/studies.js";
import { registerStudyDocuments } from "./routes/study-documents.js";
import { registerSurveys } from "./routes/surveys.js";
import { PAGE_POLICY } from "./security.js";
import { addressProblem, answerBrokenHttp, registerReading } from "./unreadable.js";

/** A file of each kind, the request, and the fields of the page's form. */
const MULTIPART_LIMITS = { files: 5, fields: 40, parts: 45, headerPairs: 100, fieldNameSize: 100 };
const FIELD_MB = 32;
/** Longer than a slow line needs for the largest upload, shorter than forever. */
const REQUEST_TIMEOUT_MS = 10 * 60_000;

export async function buildApp(deps: Deps): Promise<FastifyInstance> {
  const { config } = deps;
  const app = Fastify({
    logger: config.log === "silent" ? false : { level: config.log },
    bodyLimit: config.uploadBytes,
    trustProxy: config.trustProxy,
    requestTimeout: REQUEST_TIMEOUT_MS,
    logController: new LogController({ disableRequestLogging: true }),
    frameworkErrors: (error, request, reply) => {
      sendProblem(request, reply, addressProblem(error), problemPage);
    },
    clientErrorHandler: answerBrokenHttp,
    routerOptions: { ignoreTrailingSlash: true, maxParamLength: 200 },
  });
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(() => (data) => JSON.stringify(data));
  registerLog(app);
  const metrics = registerMetrics(app);
  registerErrors(app, problemPage);
  registerReading(app);

  await app.register(helmet, {
    contentSecurityPolicy: { useDefaults: false, directives: PAGE_POLICY },
    strictTransportSecurity: config.publicUrl?.startsWith("https:") ?? false,
    crossOriginEmbedderPolicy: false,
    // With no referrer at all, browsers hide the origin of our own forms too, and the builder's would be refused.
    referrerPolicy: { policy: "same-origin" },
  });
  await app.register(rateLimit, { max: config.requestsPerMinute, timeWindow: "1 minute" });
  await app.register(multipart, {
    limits: { ...MULTIPART_LIMITS, fileSize: config.uploadBytes, fieldSize: FIELD_MB * 1024 * 1024 },
    throwFileSizeLimit: true,
  });
  registerCors(app, config.corsOrigins);
  await registerOpenApi(app);

  registerStudies(app, deps);
  registerStudyDocuments(app, deps);
  registerSurveys(app, deps);
  registerJobs(app, deps);
  registerComparisons(app, deps);
  registerShare(app, deps);
  registerInbox(app, deps);
  registerSaved(app, deps);
  registerOperations(app, deps, metrics);
  registerReference(app);
  await registerPages(app, deps);
  return app;
}
