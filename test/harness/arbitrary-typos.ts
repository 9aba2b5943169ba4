import fc from 'fast-check';
import { readText } from '../../server/src/core/syntax/read-text.ts';

/** A slip of the pen in one key or value of a text. Numbers choose by their remainder. */
export interface Typo {
  readonly at: number;
  readonly how: 'drop' | 'double' | 'swap' | 'unquote' | 'unmask';
  readonly letter: number;
}

/** Slips such as fixes are offered for. */
export const arbitraryTypo: fc.Arbitrary<Typo> = fc.record({
  at: fc.nat(),
  how: fc.constantFrom('drop', 'double', 'swap', 'swap', 'unquote', 'unmask'),
  letter: fc.nat(),
});

/** The text with a slip in it; the same text where it holds nothing to slip in. */
export function misspelt(text: string, { at, how, letter }: Typo): string {
  const places = readText(text).tape.entries.flatMap(({ kind, keyStart, keyEnd, start, end }) => [
    ...(keyStart >= 0 ? [{ start: keyStart, end: keyEnd }] : []),
    ...(kind === 'plain' || kind === 'quoted' ? [{ start, end }] : []),
  ]);
  const words = places
    .map(({ start, end }) => ({ start, end, word: text.slice(start, end) }))
    .filter(({ word }) => isFit(word, how));
  const place = words[at % Math.max(words.length, 1)];
  return place ? text.slice(0, place.start) + slip(place.word, how, letter) + text.slice(place.end) : text;
}

function isFit(word: string, how: Typo['how']): boolean {
  if (how === 'unquote') return /^"[^"\n]+"$/.test(word);
  return how === 'unmask' ? word.includes('****') : /^[a-z][a-z_-]{3,}$/.test(word);
}

function slip(word: string, how: Typo['how'], letter: number): string {
  const at = letter % (word.length - 1);
  switch (how) {
    case 'drop':
      return word.slice(0, at) + word.slice(at + 1);
    case 'double':
      return word.slice(0, at + 1) + word.slice(at);
    case 'swap':
      return word.slice(0, at) + word.charAt(at + 1) + word.charAt(at) + word.slice(at + 2);
    case 'unquote':
      return word.slice(1, -1);
    case 'unmask':
      return word.replace('****', 'WRN0');
  }
}
