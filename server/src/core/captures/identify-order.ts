/**
 * Which way round the bytes of IDENTIFY DEVICE data stand. Some bridges and tools swap the two bytes of every word, others only those
 * of its texts.
 */
import { byteSum } from './bytes.ts';

/** Where the texts of IDENTIFY DEVICE data stand, in words. Source: ACS, as hdparm and Linux (include/linux/ata.h) read them. */
export const identifyTexts = {
  serial: { at: 10, words: 10 },
  firmware: { at: 23, words: 4 },
  model: { at: 27, words: 20 },
} as const;

/** Low byte of word 255 where the high one is a checksum. */
const signature = 0xa5;

/** Whether the bytes of every word are swapped. `bytes` are the same data, for their checksum. */
export function areWordsSwapped(words: readonly number[], bytes: Uint8Array): boolean {
  const last = words[255];
  // Swapping changes no sum, so that only the place of the signature tells; a checksum may happen to be the same byte.
  if (last !== undefined && byteSum(bytes) === 0 && (low(last) === signature) !== (high(last) === signature)) {
    return high(last) === signature;
  }
  return evidence(words) < -1;
}

/** Words that read sensibly as they are, less those that read sensibly the other way round. */
function evidence(words: readonly number[]): number {
  return tells.reduce((sum, { at, isRight }) => {
    const word = words[at] ?? 0;
    return sum + Number(isRight(word)) - Number(isRight(swapped(word)));
  }, 0);
}

/** Words of which only one order makes sense. Word 2 is none of them: each of its four values is another one swapped. */
const tells: readonly { readonly at: number; readonly isRight: (word: number) => boolean }[] = [
  { at: 0, isRight: (word) => (low(word) & 0xc0) !== 0 && (word & 0x8000) === 0 },
  { at: 47, isRight: (word) => high(word) === 0x80 },
  { at: 49, isRight: (word) => (word & 0x0200) !== 0 },
  { at: 53, isRight: (word) => word <= 7 },
  ...[83, 84, 87].map((at) => ({ at, isRight: (word: number) => word >> 14 === 1 })),
];

/**
 * Whether the texts, read as the standard has them, only make sense with each pair of characters swapped: padding that ends before the
 * last character of serial number or firmware, which hold no spaces of their own; else of the model, where it reads better swapped.
 */
export function areTextsSwapped(words: readonly number[]): boolean {
  const [serial, firmware, model] = [identifyTexts.serial, identifyTexts.firmware, identifyTexts.model].map(
    ({ at, words: count }) => words.slice(at, at + count),
  );
  const votes = [serial, firmware].map((text = []) => orderOf(text));
  if (votes.includes('right') || !model) return false;
  if (votes.includes('swapped')) return true;
  return orderOf(model) === 'swapped' && changes(model) > changes(model.map(swapped)) + 2;
}

/** How often letters, digits and other characters take turns in a text. Names keep their letters and digits together. */
function changes(words: readonly number[]): number {
  const text = String.fromCharCode(...words.flatMap((word) => [high(word), low(word)])).trim();
  return text.match(/[A-Za-z]+|\d+|[^A-Za-z\d]+/g)?.length ?? 0;
}

/** How the padding of one text lies; undefined where it shows nothing, as at an even length. */
function orderOf(words: readonly number[]): 'right' | 'swapped' | undefined {
  const filled = words.filter((word) => !isPadding(high(word)) || !isPadding(low(word)));
  const last = filled.at(-1);
  if (last === undefined) return undefined;
  if (isPadding(high(last))) return 'swapped';
  if (isPadding(low(last))) return 'right';
  const [first = last] = filled;
  // Aligned to the right, as old drives have their serial number.
  if (words.indexOf(first) === 0) return undefined;
  if (isPadding(low(first))) return 'swapped';
  return isPadding(high(first)) ? 'right' : undefined;
}

/** The same word with its bytes swapped. */
export function swapped(word: number): number {
  return low(word) * 256 + high(word);
}

function isPadding(character: number): boolean {
  return character === 0x20 || character === 0;
}

function high(word: number): number {
  return word >> 8;
}

function low(word: number): number {
  return word & 0xff;
}
