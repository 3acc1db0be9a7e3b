/** Lays one request over another: objects merge, arrays and values replace, null takes a value away. */

type Json = Record<string, unknown>;

const isObject = (value: unknown): value is Json =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** Objects in which one choice shuts out the others: {all}, {front, side, rear} or {edges}; a ring, calls or GeoJSON. */
const CHOICES = new Set(["rules.setbacksFt", "boundary", "topo", "constraints", "breaklines"]);

export function mergeRequest(base: unknown, changes: unknown, path = ""): unknown {
  if (!isObject(base) || !isObject(changes) || (CHOICES.has(path) && !sameKeys(base, changes)))
    return withoutNulls(changes);
  const merged: Json = { ...base };
  for (const [key, value] of Object.entries(changes)) {
    if (value === null) delete merged[key];
    else merged[key] = mergeRequest(base[key], value, path ? `${path}.${key}` : key);
  }
  return merged;
}

function withoutNulls(value: unknown): unknown {
  if (!isObject(value)) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, v]) => v !== null)
      .map(([k, v]) => [k, withoutNulls(v)]),
  );
}

function sameKeys(a: Json, b: Json): boolean {
  return Object.keys(b).every((key) => key in a);
}
