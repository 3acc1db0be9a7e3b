/** Bytes of a text file to UTF-8, whatever it came in. */

/** UTF-8 bytes without a byte-order mark. UTF-16 is recognised by its mark or by its empty every-other byte. */
export function toUtf8(bytes: Uint8Array): Uint8Array {
  const utf16 = utf16Kind(bytes);
  if (utf16) return new TextEncoder().encode(new TextDecoder(utf16).decode(bytes));
  return bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? bytes.subarray(3) : bytes;
}

/** The text of a file; bytes that are not UTF-8 are read as Windows-1252, where a degree sign is one byte. */
export function toText(bytes: Uint8Array): string {
  const utf8 = toUtf8(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(utf8);
  } catch {
    return new TextDecoder("windows-1252").decode(utf8);
  }
}

function utf16Kind(bytes: Uint8Array): "utf-16le" | "utf-16be" | null {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return "utf-16le";
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return "utf-16be";
  const looked = Math.min(bytes.length & ~1, 200);
  if (looked < 8) return null;
  let even = 0;
  let odd = 0;
  for (let i = 0; i < looked; i += 2) {
    if (bytes[i] === 0) even++;
    if (bytes[i + 1] === 0) odd++;
  }
  const most = 0.4 * looked;
  return odd > most && even === 0 ? "utf-16le" : even > most && odd === 0 ? "utf-16be" : null;
}
