import { expect, it } from 'vitest';
import { unnamedWords, wordField } from '../../server/src/core/captures/unnamed-words.ts';

/** Words that are all zero but for these. */
function wordsWith(set: Readonly<Record<number, number>>): number[] {
  return Array.from({ length: 256 }, (_, at) => set[at] ?? 0);
}

// Source: ACS, as hdparm 9.65 (identify.c) and Linux (include/linux/ata.h) read them: the first and last words of each stretch with a name.
it.each([
  [[0, 3, 6, 10, 19, 20, 50, 53, 69], []],
  [[75, 114, 117, 120, 127, 128, 160, 168, 169], []],
  [[176, 206, 209, 217, 219, 220, 222, 223, 230, 235, 255], []],
  [[4, 5], ['words 4 to 5']],
  [
    [7, 9],
    ['word 7', 'word 9'],
  ],
  [
    [51, 52, 70, 74],
    ['words 51 to 52', 'word 70', 'word 74'],
  ],
  [
    [115, 116, 121, 126],
    ['words 115 to 116', 'word 121', 'word 126'],
  ],
  [
    [129, 159, 161, 167],
    ['word 129', 'word 159', 'word 161', 'word 167'],
  ],
  [
    [170, 175, 207, 208, 218],
    ['word 170', 'word 175', 'words 207 to 208', 'word 218'],
  ],
  [
    [221, 224, 229, 236, 254],
    ['word 221', 'word 224', 'word 229', 'word 236', 'word 254'],
  ],
])('of words %j these have no name: %j', (at, unnamed) => {
  const words = wordsWith(Object.fromEntries(at.map((word) => [word, 1])));
  expect(unnamedWords(words).map((field) => field.at)).toEqual(unnamed);
});

it('keeps runs of what is not zero, four digits a word', () => {
  expect(unnamedWords(wordsWith({ 129: 0xab, 130: 0xcdef, 131: 1, 133: 2 }))).toEqual([
    { at: 'words 129 to 131', value: '00abcdef0001' },
    { at: 'word 133', value: '0002' },
  ]);
  // A word with a name ends a run.
  expect(unnamedWords(wordsWith({ 5: 1, 6: 1, 7: 1 })).map(({ at }) => at)).toEqual(['word 5', 'word 7']);
  expect(unnamedWords(wordsWith({}))).toEqual([]);
  expect(unnamedWords([])).toEqual([]);
});

it('writes words as they came', () => {
  const words = [0x1, 0x23, 0x456, 0x789a];
  expect(wordField(words, 0, 0)).toEqual({ at: 'word 0', value: '0001' });
  expect(wordField(words, 1, 3)).toEqual({ at: 'words 1 to 3', value: '00230456789a' });
  expect(wordField(words, 3, 5)).toEqual({ at: 'words 3 to 5', value: '789a' });
});
