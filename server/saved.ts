/** Saved defaults and cost books, checked before they are kept. */
import { parseCostBook } from "../analysis/book/index.js";
import { requestSchema } from "../analysis/request/index.js";
import { badValues, HttpProblem, summary } from "./errors.js";
import { newId } from "./ids.js";
import type { Store } from "./store/store.js";
import { INLINE_PARTS } from "./store/surveys.js";

const LONGEST_NAME = 80;

/** @throws {HttpProblem} 422 naming what cannot be used. */
export async function saveDefaults(store: Pick<Store, "books">, name: string, value: unknown): Promise<void> {
  const named = name.trim();
  if (named === "" || named.length > LONGEST_NAME)
    throw new HttpProblem("bad-values", "The defaults need a name.", {
      errors: [
        {
          where: "name",
          message: `It has ${named.length} characters.`,
          remedy: `Give a name of 1 to ${LONGEST_NAME} characters, such as the city's.`,
        },
      ],
    });
  const read = requestSchema.safeParse(value);
  if (!read.success) throw badValues(read.error, requestSchema);
  const surveys = INLINE_PARTS.filter((part) => read.data[part] !== undefined);
  if (surveys.length > 0)
    throw new HttpProblem("bad-values", "Defaults hold no survey.", {
      errors: surveys.map((where) => ({
        where,
        message: "Defaults hold no survey.",
        remedy: "Leave it out.",
      })),
    });
  await store.books.putDefaults(newId(), named, read.data);
}

/** @returns the id of the book. @throws {HttpProblem} 422 naming every fault. */
export async function saveBook(store: Pick<Store, "books">, value: unknown): Promise<string> {
  const reading = parseCostBook(value);
  if (!reading.ok)
    throw new HttpProblem("bad-values", summary(reading.problems), { errors: reading.problems });
  if (reading.book.id === "default")
    throw new HttpProblem("bad-values", "The id default belongs to the book that comes with the service.", {
      errors: [{ where: "book.id", message: "default is taken.", remedy: "Give the book an id of its own." }],
    });
  await store.books.put(reading.book);
  return reading.book.id;
}
