/** RFC 7240 preferences we honour. */
export function prefersAsync(header: string | string[] | undefined): boolean {
  return [header ?? []]
    .flat()
    .flatMap((value) => value.split(","))
    .some((preference) => preference.trim().toLowerCase() === "respond-async");
}
