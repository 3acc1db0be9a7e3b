/** What a map holds under a key; made and put there when first asked for. */
export function kept<T>(store: Map<string, T>, key: string, make: () => NoInfer<T>): T {
  const found = store.get(key);
  if (found !== undefined) return found;
  const made = make();
  store.set(key, made);
  return made;
}
