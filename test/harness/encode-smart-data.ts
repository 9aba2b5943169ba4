/** An attribute as SMART READ DATA has it. */
export interface AttributeInput {
  readonly id: number;
  readonly flags?: number;
  readonly current?: number;
  readonly worst?: number;
  /** Below 2^48. */
  readonly raw: number;
}

/** An answer to SMART READ DATA, 512 bytes with their checksum, of at most 30 attributes. Source of the layout: product manuals of drives. */
export function encodeSmartData(attributes: readonly AttributeInput[]): Uint8Array {
  const bytes = new Uint8Array(512);
  bytes[0] = 0x10;
  for (const [position, { id, flags = 0x32, current = 100, worst = 100, raw }] of attributes.entries()) {
    const counted = Array.from({ length: 6 }, (_, at) => Math.floor(raw / 256 ** at) % 256);
    bytes.set([id, flags & 0xff, flags >> 8, current, worst, ...counted], 2 + 12 * position);
  }
  bytes[511] = (256 - (bytes.reduce((sum, byte) => sum + byte, 0) % 256)) % 256;
  return bytes;
}
