import { refused } from './refused.ts';

/** Throws the answer where nobody could rely on a nonce, or it could end the policy it is put into. */
export function requireNonce(nonce: string): void {
  if (/^[\w+/-]{16,}={0,2}$/.test(nonce)) return;
  throw refused('The nonce is not of 16 letters and figures or more.');
}
