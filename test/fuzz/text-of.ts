/** Bytes as text, a mark at the start included; what is no UTF-8 becomes replacement characters. */
export function textOf(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('utf8');
}
