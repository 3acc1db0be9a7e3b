/**
 * Bytes travel to and from the database as base64 text: `decode($1, 'base64')` in, `encode(column, 'base64')` out.
 * The embedded database takes ten times as long over the hexadecimal form, on the thread that answers.
 */
export function toBase64(bytes: Uint8Array): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("base64");
}

export function fromBase64(text: string): Uint8Array {
  return Buffer.from(text, "base64");
}
