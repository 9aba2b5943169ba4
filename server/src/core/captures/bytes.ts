/** Words of 16 bits with the lower byte first, as ATA sends them; a last odd byte is left out. */
export function wordsOf(bytes: Uint8Array): readonly number[] {
  const words: number[] = [];
  for (let at = 0; at + 1 < bytes.length; at += 2) words.push((bytes[at] ?? 0) + (bytes[at + 1] ?? 0) * 256);
  return words;
}

/** The same bytes with the two of each pair swapped; a last odd one stays. */
export function swappedPairs(bytes: Uint8Array): Uint8Array {
  const swapped = Uint8Array.from(bytes);
  for (let at = 0; at + 1 < bytes.length; at += 2) {
    swapped[at] = bytes[at + 1] ?? 0;
    swapped[at + 1] = bytes[at] ?? 0;
  }
  return swapped;
}

/** Sum of all bytes, modulo 256: 0 where the last one is the checksum ATA asks for. */
export function byteSum(bytes: Uint8Array): number {
  let sum = 0;
  for (const byte of bytes) sum += byte;
  return sum % 256;
}

/** Hexadecimal digits, two a byte, lower case. */
export function hexOf(bytes: Iterable<number>): string {
  let text = '';
  for (const byte of bytes) text += byte.toString(16).padStart(2, '0');
  return text;
}

/** The characters whose codes the bytes are, without padding. */
export function charactersOf(bytes: Iterable<number>): string {
  const text = Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
  let [start, end] = [0, text.length];
  while (isPadding(text, start)) start++;
  while (isPadding(text, end - 1)) end--;
  return text.slice(start, end);
}

function isPadding(text: string, at: number): boolean {
  return text.charAt(at) === ' ' || text.charAt(at) === '\0';
}

/** Text without its padding: empty where there is none, undefined where it holds anything but printable ASCII. */
export function asciiText(bytes: Iterable<number>): string | undefined {
  const text = charactersOf(bytes);
  return /^[ -~]*$/.test(text) ? text : undefined;
}

/** A number whose parts of 8 or 16 bits come lowest first. Exact below 2^53: shifting would cut it at 32 bits. */
export function lowestFirst(parts: readonly number[], base: 256 | 65_536): number {
  return parts.reduceRight((number, part) => number * base + part, 0);
}
