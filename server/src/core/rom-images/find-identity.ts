/**
 * Where a drive's own serial number or world-wide name stands in an image.
 * Laws (test/property/rom-images.property.test.ts):
 * - a serial number that was put into an image is found, as it is and with the bytes of each pair swapped
 * - a world-wide name that was put into an image is found in each of its spellings
 */
import type { Wwn } from '../terms/wwn.ts';

/**
 * How a number is spelt: `plain`, letter after letter; `swapped_pairs`, as in the words of a drive's identification; `big_endian` and
 * `little_endian`, the bytes of a world-wide name from its first or from its last; `digits`, the same in letters.
 */
export type Spelling = 'plain' | 'swapped_pairs' | 'big_endian' | 'little_endian' | 'digits';

/** Where one spelling of a number stands. */
export interface Sighting {
  readonly spelling: Spelling;
  /** Offsets in the image, in order; the first 16 where there are more. */
  readonly at: readonly number[];
  /** How often it stands there. */
  readonly count: number;
}

/** Fewest characters of a serial number that are looked for: shorter ones stand everywhere. */
export const fewestCharacters = 4;

const mostOffsets = 16;

/** Where a serial number stands, whatever the case of its letters; empty where it does not. It has at least four characters. */
export function findSerial(bytes: Uint8Array, serial: string): readonly Sighting[] {
  const codes = Array.from(serial.trim(), eitherCase);
  return sightings(bytes, [
    ['plain', codes],
    ['swapped_pairs', swappedFrom(codes, 0)],
    ['swapped_pairs', swappedFrom(codes, 1)],
  ]);
}

/** Where a world-wide name stands, in bytes or as digits; empty where it does not. */
export function findWwn(bytes: Uint8Array, { digits }: Wwn): readonly Sighting[] {
  const big = (digits.match(/../g) ?? []).map((pair): Wanted => [Number.parseInt(pair, 16)]);
  return sightings(bytes, [
    ['big_endian', big],
    ['little_endian', big.toReversed()],
    ['swapped_pairs', swappedFrom(big, 0)],
    ['digits', Array.from(digits, eitherCase)],
  ]);
}

/** The values one byte may have; any value where there are none. */
type Wanted = readonly number[];

const anything: Wanted = [];

function eitherCase(character: string): Wanted {
  return [...new Set([character.toUpperCase(), character.toLowerCase()].map((letter) => letter.charCodeAt(0)))];
}

/**
 * What stands in words whose bytes are swapped, where the text begins with a word or with its second byte. Half of a word that the text does
 * not fill may hold anything. Source: Linux, include/linux/ata.h, on the strings of IDENTIFY DEVICE: the first character is the high byte.
 */
function swappedFrom(text: readonly Wanted[], lead: 0 | 1): readonly Wanted[] {
  const swapped = new Array<Wanted>((lead + text.length + 1) & ~1).fill(anything);
  for (const [at, wanted] of text.entries()) swapped[(at + lead) ^ 1] = wanted;
  return swapped;
}

/** Patterns that come to the same are looked for once, under the first name. */
function sightings(bytes: Uint8Array, patterns: readonly (readonly [Spelling, readonly Wanted[]])[]): Sighting[] {
  const tried = new Set<string>();
  const found = new Map<Spelling, number[]>();
  for (const [spelling, pattern] of patterns) {
    const key = JSON.stringify(pattern);
    if (tried.has(key)) continue;
    tried.add(key);
    const places = occurrences(bytes, pattern);
    if (places.length > 0) found.set(spelling, [...(found.get(spelling) ?? []), ...places]);
  }
  return Array.from(found, ([spelling, places]) => {
    const sorted = [...new Set(places)].sort((a, b) => a - b);
    return { spelling, at: sorted.slice(0, mostOffsets), count: sorted.length };
  });
}

/** The first byte of a pattern is never one that may be anything. */
function occurrences(bytes: Uint8Array, pattern: readonly Wanted[]): number[] {
  const places: number[] = [];
  const [[one = -1, other = one] = []] = pattern;
  for (let at = 0; at + pattern.length <= bytes.length; at++) {
    const byte = bytes[at];
    if (byte !== one && byte !== other) continue;
    if (pattern.every((wanted, offset) => wanted.length === 0 || wanted.includes(bytes[at + offset] ?? -1))) {
      places.push(at);
    }
  }
  return places;
}
