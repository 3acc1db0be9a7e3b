/** The buyer's page: a form that works without scripts, an intake check before the study, and the example lots. */
import fastifyStatic from "@fastify/static";
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { answerStudy, withKeptSurvey } from "../answer-study.js";
import type { Deps } from "../deps.js";
import { HttpProblem, notFound, problemDocument } from "../errors.js";
import { readExamples } from "../examples.js";
import { newId } from "../ids.js";
import { type LotFormView, lotForm, type PostedForm, readForm, submissionOf } from "../lot-form.js";
import { renderPage } from "../pages.js";
import { prefersAsync } from "../prefer.js";
import { rootPath } from "../root.js";
import { packSurvey } from "../store/surveys.js";
import { linksOf } from "../study-document.js";
import { orProblem, surveyRefused } from "../study-service.js";
import { drained } from "../submission.js";

export async function registerPages(app: FastifyInstance, deps: Deps): Promise<void> {
  const examples = readExamples();

  await app.register(fastifyStatic, {
    root: rootPath("templates/pages/assets"),
    prefix: "/assets/",
    maxAge: "1h",
    decorateReply: false,
  });

  const page = (view: LotFormView) =>
    renderPage("upload", { title: "A new lot", scripts: ["upload.js"] }, { ...lotForm(view), examples });
  const send = (reply: FastifyReply, html: string) => reply.type("text/html; charset=utf-8").send(html);

  app.get("/", async (_request, reply) => send(reply, page({})));

  /** What was read of the files, before anything is studied. */
  app.post("/lots/look", async (request, reply) => {
    const form = await readForm(request);
    const kept = await keepForNow(form);
    return refusedOnPage(request, reply, form, kept, async () => {
      const { submission } = await withKeptSurvey(deps, submissionOf(form));
      const made = await orProblem(() => deps.workshop.check(submission));
      if (!made.ok) throw surveyRefused(made.problems);
      return send(reply, page({ fields: form.fields, check: made.check, ...(kept ? { kept } : {}) }));
    });
  });

  app.post("/lots", async (request, reply) => {
    const form = await readForm(request);
    const later = prefersAsync(request.headers.prefer);
    return refusedOnPage(request, reply, form, undefined, async () => {
      const answer = await answerStudy(deps, { submission: submissionOf(form), later });
      if (later)
        return reply.code(202).header("location", answer.location).type("application/json").send(answer.body);
      return reply.redirect(linksOf(answer.studyId, answer.token).share, 303);
    });
  });

  app.post("/examples/:id", async (request, reply) => {
    const example = examples.find(({ id }) => id === (request.params as { id: string }).id);
    if (!example) throw notFound("The example");
    await drained(request);
    const { studyId, token } = await answerStudy(deps, { submission: example, later: false });
    return reply.redirect(linksOf(studyId, token).share, 303);
  });

  app.get("/examples/:id/:file", async (request, reply) => {
    const { id, file } = request.params as { id: string; file: string };
    const example = examples.find((e) => e.id === id);
    const found = Object.values(example?.files ?? {}).find(({ name }) => name === file);
    if (!found) throw notFound("The file");
    return reply
      .type("text/csv; charset=utf-8")
      .header("content-disposition", `attachment; filename="${id}-${found.name}"`)
      .send(Buffer.from(found.bytes));
  });

  /** Shows the form again with what was typed, the files that were received, and what is wrong. */
  async function refusedOnPage(
    _request: FastifyRequest,
    reply: FastifyReply,
    form: PostedForm,
    kept: LotFormView["kept"],
    work: () => Promise<unknown>,
  ): Promise<unknown> {
    try {
      return await work();
    } catch (error) {
      if (!(error instanceof HttpProblem) || error.status >= 500) throw error;
      const keptNow = kept ?? (await keepForNow(form));
      const view: LotFormView = {
        fields: form.fields,
        problem: problemDocument(error, "/lots"),
        ...(keptNow ? { kept: keptNow } : {}),
      };
      return send(reply.code(error.status), page(view));
    }
  }

  /**
   * Browsers cannot fill in file inputs again: without scripts, received files are kept under an id the form carries.
   * Housekeeping takes away those no study came to use.
   */
  async function keepForNow({ fields, files }: PostedForm): Promise<LotFormView["kept"]> {
    if (fields.script === "1") return undefined;
    const { surveyId } = fields;
    const before = surveyId
      ? await deps.store.surveys.submission(surveyId, {}).catch(() => undefined)
      : undefined;
    const all = { ...before?.files, ...files };
    const names = Object.values(all).map(({ name }) => name);
    if (names.length === 0) return undefined;
    if (surveyId && before && Object.keys(files).length === 0) return { surveyId, names };
    const id = newId();
    await deps.store.surveys.add(id, await packSurvey({ input: {}, files: all }), false);
    return { surveyId: id, names };
  }
}
