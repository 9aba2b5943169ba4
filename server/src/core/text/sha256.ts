import { sha256 as digestOf } from '@noble/hashes/sha2.js';

/** SHA-256 of some bytes, as 64 lower-case hexadecimal digits. Source: FIPS 180-4. */
export function sha256(bytes: Uint8Array): string {
  return Array.from(digestOf(bytes), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
