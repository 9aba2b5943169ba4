import { hmac } from '@noble/hashes/hmac.js';
import { sha256 } from '@noble/hashes/sha2.js';

/** Bytes of a digest that are kept: 128 bits, as many as nobody meets twice by chance. */
const keptBytes = 16;

/**
 * What stands for a serial number in a shared repository: `digest:` and 32 hexadecimal digits, the same for the same number under the
 * same key, and worth nothing to whoever has no key.
 * Source: RFC 2104, HMAC with SHA-256, cut as in its section 5; of the serial number without spaces around it, in UTF-8.
 */
export function serialDigest(serial: string, key: Uint8Array): string {
  const digest = hmac(sha256, key, new TextEncoder().encode(serial.trim())).subarray(0, keptBytes);
  return `digest:${Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('')}`;
}
