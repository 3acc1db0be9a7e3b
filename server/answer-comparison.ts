/** Takes a comparison in: every parcel checked, kept and queued. */
import { isKeptPart, needTopo, withKeptSurvey } from "./answer-study.js";
import type { Deps } from "./deps.js";
import { badValues, HttpProblem, problemDocument } from "./errors.js";
import { isId, newId, newToken } from "./ids.js";
import { mergeRequest } from "./merge-request.js";
import type { QueuedJob } from "./queue/queue.js";
import { mayCall } from "./queue/webhook-jobs.js";
import { comparisonEnvelope } from "./schemas/comparison.js";
import type { NewParcel } from "./store/comparisons.js";
import type { Query } from "./store/database.js";
import { packSurvey } from "./store/surveys.js";
import { bookFor } from "./study-service.js";
import { checkRequest } from "./submission.js";

type TakeDeps = Pick<Deps, "store" | "queue" | "book" | "config">;

/** @returns the id of the comparison. @throws {HttpProblem} 422 for what is wrong with the whole; parcels fail alone. */
export async function takeComparison(deps: TakeDeps, body: unknown): Promise<string> {
  const read = comparisonEnvelope.safeParse(body);
  if (!read.success) throw badValues(read.error, comparisonEnvelope);
  const { name = "Comparison", defaults = {}, parcels, webhook } = read.data;
  if (webhook && !mayCall(webhook.url, deps.config.webhookHosts)) throw hostNotAllowed(webhook.url);
  const refs = refsOf(parcels);

  const [id, token] = [newId(), newToken()];
  const taken: NewParcel[] = [];
  for (const [i, parcel] of parcels.entries())
    taken.push(await takeParcel(deps, mergeRequest(defaults, parcel), refs[i]!, `parcels[${i}]`));
  const waiting = taken.flatMap(({ problem }, position) => (problem ? [] : [position]));
  await deps.store.comparisons.add({ id, token, name, defaults, webhook: webhook ?? null }, taken, (query) =>
    queueParcels(deps, id, waiting, query),
  );
  await deps.store.comparisons.finishIfEnded(id);
  deps.queue.wake("parcel");
  return id;
}

/**
 * The study's id and time travel with the job, so that running it twice writes one study. Parcels run in their order,
 * the first ones of every comparison first: a few lots need not wait for the thousand that were sent before them.
 */
export function queueParcels(
  { queue }: Pick<Deps, "queue">,
  comparison: string,
  positions: readonly number[],
  query: Query,
): Promise<void> {
  const createdAt = new Date().toISOString();
  const jobs = positions.map((position): QueuedJob["data"] => ({
    comparison,
    position,
    study: newId(),
    token: newToken(),
    createdAt,
  }));
  return queue.send(
    "parcel",
    jobs,
    query,
    positions.map((position) => -position),
  );
}

async function takeParcel(
  deps: TakeDeps,
  effective: unknown,
  ref: string,
  where: string,
): Promise<NewParcel> {
  try {
    const input = checkRequest(effective, where);
    await bookFor(deps, input);
    const given = { input: { ...input, ref }, files: {} };
    const kept = input.surveyId !== undefined && isId(input.surveyId) && !Object.keys(input).some(isKeptPart);
    if (kept && (await deps.store.surveys.exists(input.surveyId!))) {
      const { surveyId, ...request } = given.input;
      return {
        ref,
        name: nameOf(input.name, ref),
        request,
        survey: { id: surveyId!, packed: null },
        problem: null,
      };
    }
    const { submission } = await withKeptSurvey(deps, given);
    needTopo(submission);
    const packed = await packSurvey(submission);
    return {
      ref,
      name: nameOf(input.name, ref),
      request: packed.request,
      survey: { id: newId(), packed },
      problem: null,
    };
  } catch (error) {
    if (!(error instanceof HttpProblem)) throw error;
    const {
      topo: _t,
      boundary: _b,
      constraints: _c,
      breaklines: _l,
      ...request
    } = effective as Record<string, unknown>;
    const name = typeof request.name === "string" ? request.name.slice(0, 200) : ref;
    return { ref, name, request, survey: null, problem: problemDocument(error, where) };
  }
}

const nameOf = (name: string | undefined, ref: string) => name?.trim() || ref;

/** The callers' own references; parcels without one are called by their place. */
function refsOf(parcels: readonly Record<string, unknown>[]): string[] {
  const refs = parcels.map(({ ref }, i) =>
    typeof ref === "string" && ref !== "" ? ref.slice(0, 200) : String(i + 1),
  );
  const seen = new Map<string, number>();
  const errors = refs.flatMap((ref, i) => {
    const first = seen.get(ref);
    if (first === undefined) seen.set(ref, i);
    return first === undefined
      ? []
      : [
          {
            code: "ref-twice",
            where: `parcels[${i}].ref`,
            message: `"${ref}" is the ref of parcels[${first}] already.`,
            remedy: "Give each parcel a ref of its own, or leave ref out to have them numbered.",
          },
        ];
  });
  if (errors.length > 0) throw new HttpProblem("bad-values", "Two parcels have the same ref.", { errors });
  return refs;
}

function hostNotAllowed(url: string): HttpProblem {
  const host = URL.canParse(url) ? new URL(url).host : url;
  return new HttpProblem("bad-values", `The operator does not allow webhooks to ${host}.`, {
    errors: [
      {
        code: "webhook-host",
        where: "webhook.url",
        message: `The operator does not allow webhooks to ${host}.`,
        remedy: "Ask the operator to add it to LOTBRIEF_WEBHOOK_HOSTS, or poll GET /v1/comparisons/{id}.",
      },
    ],
  });
}
