/** Formats told by their first bytes, so that the reader of a rare format is loaded only when a file needs it. */

export function looksLikeLas(bytes: Uint8Array): boolean {
  return bytes[0] === 0x4c && bytes[1] === 0x41 && bytes[2] === 0x53 && bytes[3] === 0x46;
}

export function looksLikeTiff([a, b, c, d]: Uint8Array): boolean {
  return (
    (a === 0x49 && b === 0x49 && (c === 42 || c === 43) && d === 0) ||
    (a === 0x4d && b === 0x4d && c === 0 && (d === 42 || d === 43))
  );
}
