/** The buyer's page: a form that works without scripts, and the example lots. */
import fastifyStatic from "@fastify/static";
import type { FastifyInstance, FastifyReply } from "fastify";
import { type Answer, answerStudy } from "../answer-study.js";
import type { Deps } from "../deps.js";
import { HttpProblem, notFound, problemDocument } from "../errors.js";
import { readExamples } from "../examples.js";
import { lotForm, submissionOf } from "../lot-form.js";
import { renderPage } from "../pages.js";
import { rootPath } from "../root.js";
import { linksOf } from "../study-document.js";

export async function registerPages(app: FastifyInstance, deps: Deps): Promise<void> {
  const examples = readExamples();

  await app.register(fastifyStatic, {
    root: rootPath("templates/pages/assets"),
    prefix: "/assets/",
    maxAge: "1h",
    decorateReply: false,
  });

  const form = (view: object) =>
    renderPage("upload", { title: "A new lot", scripts: ["upload.js"] }, { ...lotForm(view), examples });

  app.get("/", async (_request, reply) => reply.type("text/html; charset=utf-8").send(form({})));

  app.post("/lots", async (request, reply) => {
    const { fields, submission } = await submissionOf(request);
    try {
      return toReport(reply, await answerStudy(deps, { submission, later: false }));
    } catch (error) {
      if (!(error instanceof HttpProblem) || error.status >= 500) throw error;
      return reply
        .code(error.status)
        .type("text/html; charset=utf-8")
        .send(form({ fields, problem: problemDocument(error, "/lots") }));
    }
  });

  app.post("/examples/:id", async (request, reply) => {
    const example = examples.find(({ id }) => id === (request.params as { id: string }).id);
    if (!example) throw notFound("The example");
    return toReport(reply, await answerStudy(deps, { submission: example, later: false }));
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
}

function toReport(reply: FastifyReply, { studyId, token }: Answer) {
  return reply.redirect(linksOf(studyId, token).share, 303);
}
