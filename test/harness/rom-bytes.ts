import type { ImagesInput, RomImage } from '../../server/src/core/rom-images/compare-images.ts';

/** Numbers from 0 to below a limit that look like chance and are the same every time. Source: Marsaglia 2003, "Xorshift RNGs". */
export function diceOf(seed: number): (limit: number) => number {
  let state = seed | 1;
  return (limit) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % limit;
  };
}

/** Bytes that look like chance. */
export function noise(length: number, seed: number): Uint8Array {
  const dice = diceOf(seed);
  const bytes = new Uint8Array(length);
  for (let at = 0; at < length; at++) bytes[at] = dice(256);
  return bytes;
}

/** Bytes as they are, with others from an offset on. */
export function withAt(bytes: Uint8Array, at: number, part: Iterable<number>): Uint8Array {
  const changed = bytes.slice();
  changed.set([...part], at);
  return changed;
}

/** Parts one after the other. */
export function joined(...parts: readonly Uint8Array[]): Uint8Array {
  return Uint8Array.from(Buffer.concat(parts));
}

/** Text as bytes. */
export function bytesOf(text: string): Uint8Array {
  return Uint8Array.from(text, (character) => character.charCodeAt(0));
}

/** The bytes of each group of two or four in the opposite order. */
export function swappedIn(bytes: Uint8Array, width: 2 | 4): Uint8Array {
  return bytes.map((_, at) => bytes[at ^ (width - 1)] ?? 0);
}

/** An image under its name; its sum is one in name only, for what is compared by sums alone. */
export function imageOf(name: string, bytes: Uint8Array, sha256 = '0'.repeat(64)): RomImage {
  return { name, bytes, sha256 };
}

/** Two reads without a base. */
export function readsOf(first: Uint8Array, second: Uint8Array): ImagesInput {
  return { read1: imageOf('a.bin', first), read2: imageOf('b.bin', second), recorded: [] };
}
