import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';

/** The SHA-256 of bytes in 64 lower-case hexadecimal digits. Source: FIPS 180-4. */
export function sha256Of(bytes: Uint8Array): string {
  return bytesToHex(sha256(bytes));
}
