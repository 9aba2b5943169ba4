/** What a serial flash says of itself when asked for its identification with command 9Fh. */
export interface Identification {
  /** How many continuation codes stand before the maker's: each leads to the next bank of makers. */
  readonly continuations: number;
  readonly maker: number;
  readonly type: number;
  readonly capacity: number;
}

/** The code that leads to the next bank. Source: JEDEC JEP106, as flash data sheets repeat it. */
const continuation = 0x7f;

/**
 * A sequence read as an identification: continuation codes, a maker's code of seven bits with odd parity, a type and a capacity; undefined
 * where it cannot be one. Source: JEDEC JEP106 (abstract) and flash data sheets, "Read Identification (9Fh)".
 */
export function readIdentification(sequence: readonly number[]): Identification | undefined {
  const continuations = sequence.findIndex((byte) => byte !== continuation);
  const [maker, type, capacity, ...rest] = sequence.slice(Math.max(0, continuations));
  if (maker === undefined || type === undefined || capacity === undefined || rest.length > 0) return undefined;
  return hasOddParity(maker) ? { continuations: Math.max(0, continuations), maker, type, capacity } : undefined;
}

function hasOddParity(byte: number): boolean {
  return byte.toString(2).replaceAll('0', '').length % 2 === 1;
}
