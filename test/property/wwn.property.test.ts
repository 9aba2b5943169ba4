import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseWwn } from '../../server/src/core/terms/wwn.ts';

function hex(digits: number): fc.Arbitrary<string> {
  return fc
    .array(fc.constantFrom(...'0123456789abcdef'), { minLength: digits, maxLength: digits })
    .map((list) => list.join(''));
}

/** A name of each layout with the prefix it was built with. */
const names = fc
  .record({ oui: hex(6), naa: fc.constantFrom(2, 3, 5, 6), before: hex(3), after: hex(25) })
  .map(({ oui, naa, before, after }) => {
    if (naa === 3) return { oui: undefined, text: `3${after.slice(0, 15)}` };
    if (naa === 2) return { oui, text: `2${before}${oui}${after.slice(0, 6)}` };
    return { oui, text: `${naa}${oui}${after.slice(0, naa === 5 ? 9 : 25)}` };
  });

describe('world-wide names', () => {
  it('the prefix of a name is the one it was built with', () => {
    fc.assert(
      fc.property(names, ({ oui, text }) => {
        const wwn = parseWwn(text);
        expect('oui' in wwn && wwn.oui?.replaceAll('-', '').toLowerCase()).toBe(oui);
      }),
      { seed: 1 },
    );
  });

  it('prefix, `0x`, spaces and case change nothing', () => {
    const dressings = fc.record({
      before: fc.constantFrom('', '0x', '0X', 'naa.'),
      space: fc.nat(20),
      isUpper: fc.boolean(),
    });
    fc.assert(
      fc.property(names, dressings, ({ text }, { before, space, isUpper }) => {
        const spaced = `${text.slice(0, space)} ${text.slice(space)}`;
        expect(parseWwn(before + (isUpper ? spaced.toUpperCase() : spaced))).toEqual(parseWwn(text));
      }),
      { seed: 2 },
    );
  });

  it('never throws', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(parseWwn(text)).toBeDefined();
      }),
      { seed: 3 },
    );
  });
});
