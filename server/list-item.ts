/** A study as one row of the builder's list. */
import { isId } from "./ids.js";
import type { AnswerOf, studyListItem } from "./schemas/answers.js";
import type { StudyRow } from "./store/studies.js";
import { linksOf } from "./study-document.js";

export function listItem(row: StudyRow): AnswerOf<typeof studyListItem> {
  return {
    id: row.id,
    token: row.token,
    createdAt: row.createdAt,
    name: row.name,
    ref: row.request.ref ?? null,
    parent: row.parentId,
    contact: row.contact,
    stage: row.stage,
    summary: row.summary,
    used: row.used,
    links: linksOf(row.id, row.token),
  };
}

interface Place {
  readonly key: number;
  readonly id: string;
}

/** A cursor names the last row seen and the order it was seen in. */
export function writeCursor(sort: string, { key, id }: Place): string {
  return Buffer.from(JSON.stringify([sort, key, id])).toString("base64url");
}

/** Undefined when the text is no cursor of ours, or belongs to another order. */
export function readCursor(text: string, sort: string): Place | undefined {
  try {
    const [inOrder, key, id] = JSON.parse(Buffer.from(text, "base64url").toString("utf8"));
    return inOrder === sort && Number.isFinite(key) && isId(id) ? { key, id } : undefined;
  } catch {
    return undefined;
  }
}
