/** The builder's pages: sign in, the list of leads, one lead, picked lots side by side, saved defaults and cost books. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { answerStudy } from "../answer-study.js";
import { holdsKey, needKey, sessionCookie } from "../builder-key.js";
import { pickedPage } from "../comparison-page.js";
import type { Deps } from "../deps.js";
import { badValues, HttpProblem, notFound, problemDocument } from "../errors.js";
import { forgetComparison, forgetStudy } from "../forget.js";
import { isId } from "../ids.js";
import { inboxView, leadView } from "../inbox-view.js";
import { leadsTable } from "../leads-table.js";
import { readCursor, writeCursor } from "../list-item.js";
import { mergeRequest } from "../merge-request.js";
import { renderPage } from "../pages.js";
import { saveBook, saveDefaults } from "../saved.js";
import { STAGES, type StudyRow } from "../store/studies.js";
import { checkRequest, drained, parseJson, readParts } from "../submission.js";
import { listQuery } from "./studies.js";

/** Sign-in attempts a minute from one address. */
const ATTEMPTS = 10;
const MOST_EXPORTED = 10_000;
const MOST_COMPARED = 40;
/** Comparisons under the leads: enough to find the one in hand. */
const COMPARISONS_SHOWN = 50;

const noteForm = z.object({ stage: z.enum(STAGES).optional(), note: z.string().max(10_000).optional() });

export function registerInbox(app: FastifyInstance, deps: Deps): void {
  const { store, key, config } = deps;
  const html = (reply: FastifyReply, page: string) =>
    reply.type("text/html; charset=utf-8").header("cache-control", "private, no-store").send(page);
  const secure = config.publicUrl?.startsWith("https:") ?? false;
  const signInPage = (wrong: boolean) => renderPage("sign-in", { title: "Builder" }, { wrong });
  /** Sends whoever has no session to the sign-in form. */
  const builderOnly = async (request: FastifyRequest, reply: FastifyReply) => {
    if (request.method === "GET" && !holdsKey(request, key)) return html(reply.code(401), signInPage(false));
    needKey(request, key);
  };
  const leadOf = async (params: unknown): Promise<StudyRow> => {
    const { id } = params as { id: string };
    const row = isId(id) ? await store.studies.byId(id) : undefined;
    if (!row) throw notFound("The lead");
    return row;
  };
  const fieldsOf = async (request: FastifyRequest) => (await readParts(request, null)).fields;

  app.post(
    "/inbox/sign-in",
    { config: { rateLimit: { max: ATTEMPTS, timeWindow: "1 minute" } } },
    async (request, reply) => {
      const { key: given = "" } = await fieldsOf(request);
      if (!key.opens(given.trim())) return html(reply.code(401), signInPage(true));
      return reply
        .header("set-cookie", sessionCookie(key.newSession(new Date()), secure))
        .redirect("/inbox", 303);
    },
  );

  app.post("/inbox/sign-out", async (request, reply) => {
    await drained(request);
    return reply.header("set-cookie", sessionCookie("", secure)).redirect("/", 303);
  });

  app.get("/inbox", { preHandler: builderOnly }, async (request, reply) => {
    const given = request.query as Record<string, string>;
    const read = listQuery.safeParse(Object.fromEntries(Object.entries(given).filter(([, v]) => v !== "")));
    if (!read.success) throw badValues(read.error, listQuery, "query");
    const { cursor, ...query } = read.data;
    const after = cursor === undefined ? undefined : readCursor(cursor, query.sort);
    const { rows, next } = await store.studies.list({ ...query, search: query.q, after });
    const plans = await store.studies.documentsOf(
      rows.map(({ id }) => id),
      "thumbnail",
    );
    const view = await inboxView({
      rows,
      plans,
      query,
      counts: await store.studies.countByStage(),
      comparisons: await store.comparisons.newest(COMPARISONS_SHOWN),
      next: next && writeCursor(query.sort, next),
      now: new Date(),
    });
    return html(reply, renderPage("inbox", { title: "Leads", wide: true }, view));
  });

  app.get("/inbox/leads.csv", { preHandler: builderOnly }, async (request, reply) => {
    const ids = [(request.query as { id?: string | string[] }).id ?? []].flat().filter(isId);
    const rows =
      ids.length > 0
        ? await store.studies.byIds(ids)
        : (await store.studies.list({ sort: "newest", limit: MOST_EXPORTED })).rows;
    return reply
      .type("text/csv; charset=utf-8")
      .header("content-disposition", 'attachment; filename="leads.csv"')
      .header("cache-control", "private, no-store")
      .send(leadsTable(rows));
  });

  app.get("/inbox/compare", { preHandler: builderOnly }, async (request, reply) => {
    const ids = [(request.query as { id?: string | string[] }).id ?? []]
      .flat()
      .filter(isId)
      .slice(0, MOST_COMPARED);
    const rows = new Map((await store.studies.byIds(ids)).map((row) => [row.id, row]));
    const picked = ids.flatMap((id) => rows.get(id) ?? []);
    if (picked.length < 2)
      throw new HttpProblem("bad-request", "Tick at least two leads to set them side by side.", {
        errors: [
          {
            where: "query.id",
            message: "Fewer than two leads are ticked.",
            remedy: "Go back and tick two or more.",
          },
        ],
      });
    return html(reply, await pickedPage(deps, picked));
  });

  app.get("/inbox/leads/:id", { preHandler: builderOnly }, async (request, reply) => {
    const row = await leadOf(request.params);
    const view = await leadView({
      row,
      history: await store.studies.history(row.id),
      plan: await store.studies.document(row.id, "thumbnail"),
      defaults: await store.books.listDefaults(),
      books: await store.books.list(),
    });
    return html(reply, renderPage("lead", { title: row.name }, view));
  });

  app.post("/inbox/leads/:id/notes", { preHandler: builderOnly }, async (request, reply) => {
    const { id, stage: was } = await leadOf(request.params);
    const read = noteForm.safeParse(await fieldsOf(request));
    if (!read.success) throw badValues(read.error, noteForm);
    const stage = read.data.stage === was ? undefined : read.data.stage;
    const note = read.data.note?.trim() || undefined;
    if (stage || note) await store.studies.note(id, { stage, note });
    return reply.redirect(`/inbox/leads/${id}`, 303);
  });

  /** The same survey under the builder's own rules, prices and haul. */
  app.post("/inbox/leads/:id/rerun", { preHandler: builderOnly }, async (request, reply) => {
    const parent = await leadOf(request.params);
    const fields = await fieldsOf(request);
    const saved = (await store.books.listDefaults()).find(({ id }) => id === fields.defaults);
    const costs = fields.book ? { costs: { book: fields.book } } : {};
    const effective = mergeRequest(mergeRequest(parent.request, saved?.request ?? {}), costs);
    const input = checkRequest(effective);
    const submission = await store.surveys.submission(parent.surveyId, input);
    if (!submission) throw notFound("The survey of this lead");
    const { studyId } = await answerStudy(deps, {
      submission,
      parent,
      later: false,
      contact: parent.contact,
      ...(saved ? { defaultsName: saved.name } : {}),
    });
    return reply.redirect(`/inbox/leads/${studyId}`, 303);
  });

  app.post("/inbox/leads/:id/delete", { preHandler: builderOnly }, async (request, reply) => {
    const { id } = await leadOf(request.params);
    needTick(await fieldsOf(request));
    await forgetStudy(deps, id);
    return reply.redirect("/inbox", 303);
  });

  app.post("/inbox/comparisons/:id/delete", { preHandler: builderOnly }, async (request, reply) => {
    const { id } = request.params as { id: string };
    needTick(await fieldsOf(request));
    if (!isId(id) || !(await forgetComparison(deps, id))) throw notFound("The comparison");
    return reply.redirect("/inbox", 303);
  });

  app.get("/inbox/defaults", { preHandler: builderOnly }, async (_request, reply) =>
    html(reply, await defaultsPage({})),
  );

  app.post("/inbox/defaults", { preHandler: builderOnly }, async (request, reply) => {
    const fields = await fieldsOf(request);
    return saved(reply, fields, () =>
      saveDefaults(store, fields.name ?? "", parseJson(fields.request ?? "", "request")),
    );
  });
  app.post("/inbox/defaults/:id/delete", { preHandler: builderOnly }, async (request, reply) => {
    await drained(request);
    const { id } = request.params as { id: string };
    if (!isId(id) || !(await store.books.removeDefaults(id))) throw notFound("The saved defaults");
    return reply.redirect("/inbox/defaults", 303);
  });
  app.post("/inbox/books", { preHandler: builderOnly }, async (request, reply) => {
    const { files, fields } = await readParts(request, null);
    const text =
      files.book && files.book.bytes.byteLength > 0
        ? new TextDecoder().decode(files.book.bytes)
        : fields.book;
    return saved(reply, fields, () => saveBook(store, parseJson(text ?? "", "book")));
  });
  app.post("/inbox/books/:id/delete", { preHandler: builderOnly }, async (request, reply) => {
    await drained(request);
    if (!(await store.books.remove((request.params as { id: string }).id))) throw notFound("The cost book");
    return reply.redirect("/inbox/defaults", 303);
  });

  async function defaultsPage(view: object): Promise<string> {
    const defaults = await store.books.listDefaults();
    return renderPage(
      "defaults",
      { title: "Saved defaults" },
      {
        ...view,
        defaults: defaults.map(({ request, ...rest }) => ({
          ...rest,
          request: JSON.stringify(request, null, 2),
        })),
        books: await store.books.list(),
      },
    );
  }

  /** Saves, or shows the page again with what was typed and what is wrong with it. */
  async function saved(reply: FastifyReply, fields: object, save: () => Promise<unknown>) {
    try {
      await save();
      return reply.redirect("/inbox/defaults", 303);
    } catch (error) {
      if (!(error instanceof HttpProblem)) throw error;
      const problem = problemDocument(error, "/inbox/defaults");
      return html(reply.code(error.status), await defaultsPage({ values: fields, problem }));
    }
  }
}

function needTick({ sure }: Readonly<Record<string, string>>): void {
  if (sure === "yes") return;
  throw new HttpProblem("bad-values", "Tick that you are sure.", {
    errors: [
      { where: "sure", message: "It is not ticked.", remedy: "Go back, tick the box, and delete again." },
    ],
  });
}
