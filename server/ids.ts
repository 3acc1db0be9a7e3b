/** Identifiers nobody can guess: whoever holds a study's id may read that study. */
import { createHash, randomBytes, randomUUID } from "node:crypto";

/** 122 random bits. */
export const newId = (): string => randomUUID();

/** 144 random bits, in letters an address takes as they are. */
export const newToken = (): string => randomBytes(18).toString("base64url");

export const sha256 = (text: string | Uint8Array): string => createHash("sha256").update(text).digest("hex");

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;

export const isId = (text: string): boolean => UUID.test(text);
