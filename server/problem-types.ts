/** Every kind of problem the service answers with: RFC 9457 types under /problems/. */

export interface ProblemType {
  readonly status: number;
  readonly title: string;
  /** What it means and what to do, for the page at its address. */
  readonly about: string;
}

export const PROBLEM_TYPES = {
  "bad-request": {
    status: 400,
    title: "The request cannot be read",
    about: "A header, an address part or a query value is not what the route takes. `errors` names it.",
  },
  "bad-json": {
    status: 400,
    title: "The JSON cannot be read",
    about:
      "The text is not valid JSON. `errors` says near which character; check commas, quotes and brackets there.",
  },
  "bad-upload": {
    status: 400,
    title: "The upload cannot be read",
    about: "The multipart body is broken, holds a field the route does not take, or holds one twice.",
  },
  "key-needed": {
    status: 401,
    title: "The builder's key is needed",
    about:
      "Routes that list, change or delete other people's lots need `Authorization: Bearer KEY`. The key is set with LOTBRIEF_KEY, or was printed once at the first start.",
  },
  "not-from-here": {
    status: 403,
    title: "The form was sent from another site",
    about: "Forms that act with the builder's session are taken from the service's own pages only.",
  },
  "not-found": {
    status: 404,
    title: "There is nothing at this address",
    about: "The address is mistyped, or what it named was deleted.",
  },
  "method-not-allowed": {
    status: 405,
    title: "The address does not take this method",
    about: "`Allow` lists the methods it takes.",
  },
  "not-acceptable": {
    status: 406,
    title: "No form of the answer matches Accept",
    about: "The route answers with the media types listed in the detail.",
  },
  "already-running": {
    status: 409,
    title: "The same request is still being answered",
    about: "Another request with this Idempotency-Key has not finished. Wait and send it again.",
  },
  "already-finished": {
    status: 409,
    title: "It is finished already",
    about: "What has finished cannot be dismissed or run again in this way.",
  },
  "stakes-refused": {
    status: 409,
    title: "No stakes can be set out from this survey",
    about:
      "Stakes need a boundary that closes and a survey without a stop. `errors` names what stands against it.",
  },
  "too-large": {
    status: 413,
    title: "The request is too large",
    about:
      "The detail says the limit. Thin the points (keep breaklines), or ask the operator to raise LOTBRIEF_UPLOAD_MB.",
  },
  "wrong-media-type": {
    status: 415,
    title: "The media type is not taken here",
    about: "Send application/json, or multipart/form-data where files are uploaded.",
  },
  "bad-values": {
    status: 422,
    title: "Some values cannot be used",
    about: "Each entry of `errors` names one value by its path, says what is wrong and what to send instead.",
  },
  "survey-refused": {
    status: 422,
    title: "The survey cannot be used",
    about:
      "Each entry of `errors` names a file, row and column where known, what is wrong, and what the surveyor can do.",
  },
  "key-reused": {
    status: 422,
    title: "The Idempotency-Key was used for another request",
    about: "A key stands for one request. Make a new key for a new request.",
  },
  "study-too-heavy": {
    status: 422,
    title: "The study took more time or memory than allowed",
    about:
      "Thin the survey to the ground within some 100 ft of the lot, or ask the operator to raise LOTBRIEF_STUDY_SECONDS.",
  },
  "too-many-requests": {
    status: 429,
    title: "Too many requests",
    about: "Wait for the time in Retry-After.",
  },
  "our-fault": {
    status: 500,
    title: "Something broke on our side",
    about: "The request was not at fault. It was logged with the number in `instance`; tell the operator.",
  },
  "no-printer": {
    status: 501,
    title: "PDF is not set up here",
    about:
      "The operator can set CHROMIUM_PATH to a Chromium. Until then open the report in a browser and print it.",
  },
  busy: {
    status: 503,
    title: "Busy",
    about: "More work is waiting than this machine takes. Wait for the time in Retry-After.",
  },
} as const satisfies Record<string, ProblemType>;

export type ProblemSlug = keyof typeof PROBLEM_TYPES;
