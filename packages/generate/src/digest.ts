/**
 * The digest of a description: tells whether a file was made from this very description. SHA-256 over its JSON with the
 * keys of every object sorted, so that neither key order nor white space matters.
 */
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import type { Station } from "byterail";

/**
 * The digest of a station description.
 *
 * @returns the first 16 hex digits of the SHA-256
 */
export function descriptionDigest(station: Station): string {
  return bytesToHex(sha256(utf8ToBytes(JSON.stringify(station, sortedKeys)))).slice(0, 16);
}

function sortedKeys(_key: string, value: unknown): unknown {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}
