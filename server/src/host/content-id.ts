import { sha1 } from '@noble/hashes/legacy.js';

/**
 * The id of a content: what git calls its blob id, so that files on disk and in git history share what was computed from them.
 * Source: Pro Git, 10.2 "Git Objects": SHA-1 over `blob `, the length in bytes, NUL, and the bytes.
 */
export function contentIdOf(bytes: Uint8Array): string {
  const header = new TextEncoder().encode(`blob ${bytes.length}\0`);
  const digest = sha1.create().update(header).update(bytes).digest();
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
