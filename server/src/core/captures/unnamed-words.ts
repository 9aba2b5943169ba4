import type { UnnamedField } from './decoded.ts';

/**
 * Words of IDENTIFY DEVICE data that the standards give a meaning, now or formerly; the others are reserved or the maker's own.
 * Source: ACS, as hdparm 9.65 (identify.c) and Linux (include/linux/ata.h) read them; words 230 to 235 from memory.
 */
const named: readonly (readonly [first: number, last: number])[] = [
  [0, 3],
  [6, 6],
  [10, 19],
  [20, 50],
  [53, 69],
  [75, 114],
  [117, 120],
  [127, 128],
  [160, 160],
  [168, 169],
  [176, 206],
  [209, 217],
  [219, 220],
  [222, 223],
  [230, 235],
  [255, 255],
];

const isNamed = Array.from({ length: 256 }, (_, word) => named.some(([first, last]) => first <= word && word <= last));

/** What stands in words that have no name: each run of them that is not zero, as four digits a word. */
export function unnamedWords(words: readonly number[]): readonly UnnamedField[] {
  const runs: { first: number; last: number }[] = [];
  for (const [at, word] of words.entries()) {
    if (word === 0 || isNamed[at]) continue;
    const run = runs.at(-1);
    if (run?.last === at - 1) run.last = at;
    else runs.push({ first: at, last: at });
  }
  return runs.map(({ first, last }) => wordField(words, first, last));
}

/** Some words as they came. */
export function wordField(words: readonly number[], first: number, last: number): UnnamedField {
  const digits = words.slice(first, last + 1).map((word) => word.toString(16).padStart(4, '0'));
  return { at: first === last ? `word ${first}` : `words ${first} to ${last}`, value: digits.join('') };
}
