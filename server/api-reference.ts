/** /openapi.json as sections a person reads. */
import { PROBLEM_TYPES } from "./problem-types.js";

interface Schema {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly items?: Schema;
  readonly prefixItems?: readonly Schema[];
  readonly anyOf?: readonly Schema[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly minimum?: number;
  readonly exclusiveMinimum?: number;
  readonly maximum?: number;
  readonly additionalProperties?: boolean | Schema;
}

interface Operation {
  readonly operationId?: string;
  readonly tags?: readonly string[];
  readonly summary?: string;
  readonly description?: string;
  readonly security?: readonly unknown[];
  readonly parameters?: readonly {
    readonly name: string;
    readonly in: string;
    readonly schema: Schema;
    readonly description?: string;
  }[];
  readonly requestBody?: { readonly content: Readonly<Record<string, { readonly schema: Schema }>> };
  readonly responses?: Readonly<
    Record<string, { readonly description?: string; readonly content?: Record<string, { schema: Schema }> }>
  >;
}

export interface OpenApi {
  readonly tags?: readonly { readonly name: string; readonly description?: string }[];
  readonly paths?: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components?: { readonly schemas?: Readonly<Record<string, Schema>> };
}

export function apiReference({ tags = [], paths = {}, components }: OpenApi) {
  const operations = Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({ path, method: method.toUpperCase(), operation })),
  );
  return {
    groups: tags.map(({ name, description }) => ({
      name,
      description,
      operations: operations
        .filter(({ operation }) => operation.tags?.includes(name))
        .map(({ path, method, operation }) => ({
          id: operation.operationId,
          path,
          method,
          summary: operation.summary,
          description: operation.description?.replaceAll("`", ""),
          needsKey: (operation.security?.length ?? 0) > 0,
          parameters: operation.parameters?.map((p) => ({ ...p, words: words(p.schema) })),
          bodies: Object.entries(operation.requestBody?.content ?? {}).map(([type, { schema }]) => ({
            type,
            schema: refName(schema),
          })),
          answers: Object.entries(operation.responses ?? {}).map(([status, answer]) => ({
            status,
            types: Object.entries(answer.content ?? {}).map(([type, { schema }]) => ({
              type,
              schema: refName(schema),
            })),
            description: answer.description === "Default Response" ? "" : answer.description,
          })),
        })),
    })),
    schemas: Object.entries(components?.schemas ?? {})
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([name, schema]) => ({ name, description: schema.description, rows: rowsOf(schema, "") })),
    problems: Object.entries(PROBLEM_TYPES).map(([slug, type]) => ({ slug, ...type })),
  };
}

interface SchemaRow {
  readonly path: string;
  readonly words: string;
  readonly description: string | undefined;
}

/** Every value of a schema with its dotted path, in the order it is written. */
function rowsOf(schema: Schema, path: string): SchemaRow[] {
  const rows: SchemaRow[] = [];
  const inner = schema.type === "array" && schema.items ? schema.items : schema;
  const at = schema.type === "array" && path ? `${path}[]` : path;
  const isGroup = inner.properties !== undefined;
  if (path && !isGroup)
    rows.push({ path, words: words(schema), description: schema.description ?? inner.description });
  for (const [name, child] of Object.entries(inner.properties ?? {}))
    rows.push(...rowsOf(child, at ? `${at}.${name}` : name));
  for (const choice of inner.anyOf ?? []) if (choice.properties) rows.push(...rowsOf(choice, at));
  return rows;
}

function refName(schema: Schema): string | undefined {
  return schema.$ref?.split("/").at(-1);
}

function words(schema: Schema): string {
  const reference = refName(schema);
  if (reference) return reference;
  if (schema.const !== undefined) return JSON.stringify(schema.const);
  if (schema.enum) return schema.enum.map((v) => JSON.stringify(v)).join(" | ");
  if (schema.anyOf) return [...new Set(schema.anyOf.map(words))].join(" | ");
  if (schema.prefixItems) return `[${schema.prefixItems.map(words).join(", ")}]`;
  if (schema.type === "array") return `list of ${schema.items ? words(schema.items) : "values"}`;
  const type = [schema.type ?? "object"].flat().join(" | ");
  const least =
    schema.exclusiveMinimum !== undefined
      ? `above ${schema.exclusiveMinimum}`
      : schema.minimum !== undefined && schema.minimum > -1e15
        ? `from ${schema.minimum}`
        : "";
  const most = schema.maximum !== undefined && schema.maximum < 1e15 ? `to ${schema.maximum}` : "";
  return [type, least, most].filter(Boolean).join(" ");
}
