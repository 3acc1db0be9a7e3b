/** The side after side e of the same facet. */
export function nextSide(e: number): number {
  return e % 3 === 2 ? e - 2 : e + 1;
}
