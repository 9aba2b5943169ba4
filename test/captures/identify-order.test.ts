import { describe, expect, it } from 'vitest';
import { swappedPairs, wordsOf } from '../../server/src/core/captures/bytes.ts';
import {
  areTextsSwapped,
  areWordsSwapped,
  identifyTexts,
  swapped,
} from '../../server/src/core/captures/identify-order.ts';
import { withChecksum } from '../harness/encode-identify.ts';

/** Words that are all zero but for these. Source of what they mean: ACS, as hdparm and Linux (include/linux/ata.h) read them. */
function bytesOf(set: Readonly<Record<number, number>>, count = 256): Uint8Array {
  return Uint8Array.from({ length: 2 * count }, (_, at) => ((set[at >> 1] ?? 0) >> (at % 2 === 0 ? 0 : 8)) & 0xff);
}

function areSwapped(bytes: Uint8Array): boolean {
  return areWordsSwapped(wordsOf(bytes), bytes);
}

it('swaps the bytes of a word', () => {
  expect([0x1234, 0x00ff, 0xff00, 0].map(swapped)).toEqual([0x3412, 0xff00, 0x00ff, 0]);
});

describe('the words', () => {
  it('go by the place of the signature where the sum is right', () => {
    const plain = withChecksum(bytesOf({ 1: 0x1234 }));
    expect(areSwapped(plain)).toBe(false);
    expect(areSwapped(swappedPairs(plain))).toBe(true);
    // All else says the contrary.
    const contrary = withChecksum(bytesOf({ 47: 0x0080, 49: 0x0002, 53: 0x0700 }));
    expect(areSwapped(contrary)).toBe(false);
    expect(areSwapped(swappedPairs(bytesOf({ 47: 0x8010, 49: 0x2f00, 53: 7, 255: 0x00a5 })))).toBe(true);
  });

  it('go by what reads sensibly where the signature stands in both bytes', () => {
    const both = (set: Readonly<Record<number, number>>): Uint8Array => {
      const bytes = bytesOf({ ...set, 255: 0xa5a5 });
      const sum = bytes.reduce((total, byte) => total + byte, 0);
      bytes[300] = (512 - (sum % 256)) % 256;
      return bytes;
    };
    expect(areSwapped(both({ 47: 0x8010, 53: 7 }))).toBe(false);
    expect(areSwapped(both({ 47: 0x1080, 53: 0x0700 }))).toBe(true);
  });

  it('go by what reads sensibly where the sum is wrong or there is no signature', () => {
    expect(areSwapped(bytesOf({ 47: 0x1080, 53: 0x0700, 255: 0x00a5 }))).toBe(true);
    expect(areSwapped(bytesOf({ 47: 0x8010, 53: 7, 255: 0xa500 }))).toBe(false);
    expect(areSwapped(bytesOf({ 47: 0x1080, 53: 0x0700 }))).toBe(true);
    expect(areSwapped(bytesOf({ 47: 0x1080, 53: 0x0700 }, 100))).toBe(true);
    expect(areSwapped(bytesOf({}))).toBe(false);
    expect(areSwapped(new Uint8Array())).toBe(false);
  });

  // Each of these words reads sensibly one way round alone; two of them are enough.
  it.each([
    [{ 0: 0x0040, 1: 0 }, false],
    [{ 0: 0x4000 }, false],
    [{ 0: 0x4000, 47: 0x1080 }, true],
    [{ 0: 0x8000, 47: 0x1080 }, true],
    [{ 0: 0x8040, 47: 0x1080 }, true],
    [{ 0: 0x4040, 47: 0x1080 }, false],
    [{ 0: 0x00c0, 47: 0x1080 }, false],
    [{ 47: 0x1080 }, false],
    [{ 47: 0x8080, 53: 0x0700 }, false],
    [{ 47: 0x1080, 49: 0x0002 }, true],
    [{ 47: 0x1080, 49: 0x0202 }, false],
    [{ 47: 0x1080, 49: 0x0200 }, false],
    [{ 47: 0x1080, 49: 0x0001 }, false],
    [{ 47: 0x1080, 53: 0x0100 }, true],
    [{ 47: 0x1080, 53: 0x0700 }, true],
    [{ 47: 0x1080, 53: 0x0800 }, false],
    [{ 47: 0x1080, 53: 0x0001 }, false],
    [{ 47: 0x1080, 83: 0x0040 }, true],
    [{ 47: 0x1080, 83: 0x0080 }, false],
    [{ 47: 0x1080, 83: 0x00c0 }, false],
    [{ 47: 0x1080, 83: 0x4040 }, false],
    [{ 47: 0x1080, 84: 0x007f }, true],
    [{ 47: 0x1080, 87: 0x0040 }, true],
    [{ 47: 0x1080, 85: 0x0040 }, false],
    [{ 47: 0x1080, 84: 0x0040, 87: 0x4000 }, false],
    [{ 47: 0x8010, 83: 0x0040, 84: 0x0040 }, false],
    [{ 47: 0x8010, 83: 0x0040, 84: 0x0040, 87: 0x0040 }, true],
  ] as const)('%j are swapped: %j', (set, are) => {
    expect(areSwapped(bytesOf(set))).toBe(are);
  });
});

describe('the texts', () => {
  /** Words that hold these texts as the standard has them, two characters a word, the first in the upper byte. */
  function wordsWith(
    texts: Partial<Record<keyof typeof identifyTexts, string>>,
    isSwapped: boolean,
  ): readonly number[] {
    const words = Array.from({ length: 256 }, () => 0);
    for (const [key, text = ''] of Object.entries(texts)) {
      const { at, words: count } = identifyTexts[key as keyof typeof identifyTexts];
      const padded = text.padEnd(2 * count);
      for (let word = 0; word < count; word += 1) {
        const own = padded.charCodeAt(2 * word) * 256 + padded.charCodeAt(2 * word + 1);
        words[at + word] = isSwapped ? swapped(own) : own;
      }
    }
    return words;
  }

  it('stand where the standard has them', () => {
    expect(identifyTexts).toEqual({
      serial: { at: 10, words: 10 },
      firmware: { at: 23, words: 4 },
      model: { at: 27, words: 20 },
    });
  });

  it.each<readonly [string, Parameters<typeof wordsWith>[0], boolean | undefined]>([
    ['nothing', {}, undefined],
    ['a serial number of odd length', { serial: 'WRN0A' }, true],
    ['a serial number of odd length, padded with zeros', { serial: 'WRN0A\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0' }, true],
    ['a serial number of even length', { serial: 'WRN0A4' }, undefined],
    ['a serial number that fills its room', { serial: 'WRN0A4F2KWRN0A4F2KAB' }, undefined],
    ['a serial number of odd length at the right', { serial: 'WRN0A'.padStart(20) }, true],
    ['a serial number of even length at the right', { serial: 'WRN0A4'.padStart(20) }, undefined],
    ['one character', { serial: 'W' }, true],
    ['a firmware of odd length', { firmware: 'T2.07' }, true],
    ['a firmware of even length', { firmware: 'T207' }, undefined],
    ['both, of which the second shows it', { serial: 'WRN0A4', firmware: 'T2.07' }, true],
    ['both, of which the first shows it', { serial: 'WRN0A', firmware: 'T207' }, true],
    ['a model with letters and digits together', { model: 'WREN TERN DRIVE B1000-21X' }, true],
    ['a model of odd length that reads alike', { model: 'TNS' }, undefined],
    ['a model of even length that reads worse', { model: 'ABC123DEF456GH' }, undefined],
    ['a model of odd length that reads worse', { model: 'ABC12' }, true],
    ['a model of odd length that reads hardly worse', { model: 'ABCD12345' }, undefined],
    ['a model that fills all but one of its characters', { model: `${'T'.repeat(37)}12` }, true],
    ['a serial number with a space in the first word', { serial: 'W 12' }, undefined],
    ['a model of even length', { model: 'WREN TERN DRIVE B1000-21' }, undefined],
  ])('show by %s how they stand', (_, texts, isShown) => {
    expect(areTextsSwapped(wordsWith(texts, false))).toBe(false);
    expect(areTextsSwapped(wordsWith(texts, true))).toBe(isShown === true);
  });

  it('are right where one of them is, whatever the others show', () => {
    const right = wordsWith({ serial: 'WRN0A' }, false);
    const wrong = wordsWith({ firmware: 'T2.07', model: 'WREN TERN DRIVE B1000-21X' }, true);
    expect(areTextsSwapped(right.map((word, at) => word + (wrong[at] ?? 0)))).toBe(false);
    const other = wordsWith({ firmware: 'T2.07' }, false);
    const serial = wordsWith({ serial: 'WRN0A' }, true);
    expect(areTextsSwapped(other.map((word, at) => word + (serial[at] ?? 0)))).toBe(false);
  });

  it('are right where a number at the right is, if its length shows it', () => {
    const firmware = wordsWith({ firmware: 'T2.07' }, true);
    const both = (serial: string) => wordsWith({ serial }, false).map((word, at) => word + (firmware[at] ?? 0));
    expect(areTextsSwapped(both('WRN0A'.padStart(20)))).toBe(false);
    expect(areTextsSwapped(both('WRN0A4'.padStart(20)))).toBe(true);
  });

  it('are not swapped where they are not there', () => {
    expect(areTextsSwapped([])).toBe(false);
    expect(areTextsSwapped(wordsWith({ serial: 'WRN0A' }, true).slice(0, 27))).toBe(true);
  });
});
