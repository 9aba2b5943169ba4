import { expect, it } from 'vitest';
import { foldText } from '../../server/src/core/text/fold.ts';

it.each([
  ['NT10-21', 'nt10-21'],
  ['  Two   words ', 'two words'],
  ['a\tb\nc\r\nd', 'a b c d'],
  ['a\u00a0\u2003b\u3000', 'a b'],
  ['', ''],
  [' \t\n', ''],
  // Dashes, dots and leading zeros tell parts apart and stay.
  ['0007', '0007'],
  ['A-1.B_2/C', 'a-1.b_2/c'],
  ['ÄÖÜ É', 'äöü é'],
  ['ß', 'ß'],
  // Source: Unicode, SpecialCasing.txt: only Turkish and its like make a dotless i of I (from memory).
  ['I', 'i'],
  ['İ', 'i\u0307'],
  // KELVIN SIGN, which looks like K. Source: Unicode, UnicodeData.txt, simple lower case of U+212A (from memory).
  ['\u212a', 'k'],
  ['𐐀', '𐐨'],
  ['😀 X', '😀 x'],
])('%j is compared as %j', (text, folded) => {
  expect(foldText(text)).toBe(folded);
  expect(foldText(folded)).toBe(folded);
});

it('leaves composed and decomposed letters apart', () => {
  expect(foldText('é')).not.toBe(foldText('e\u0301'));
});
