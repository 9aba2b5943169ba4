import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Capture } from '../../server/src/core/captures/capture-file.ts';
import { maskSerials } from '../../server/src/core/captures/mask-serials.ts';
import { captures, serials } from '../harness/arbitrary-capture.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';

/** An ATA field of 20 bytes with a number at its left or right, or its bytes in another order, as nothing but text. */
const layouts: readonly ((serial: string) => string)[] = [
  (serial) => serial,
  (serial) => serial.toLowerCase(),
  (serial) => serial.padEnd(20),
  (serial) => serial.padStart(20),
  (serial) => swapped(serial.padEnd(20)),
  (serial) => swapped(serial.padStart(20)),
  (serial) => swapped(serial.padEnd(20, '\0')),
  (serial) => swapped(` ${serial}`.padEnd(20)),
  (serial) => [...serial.padEnd(20)].reverse().join(''),
];

const separators = ['', ' ', ':', ' 0x', '\n'];

function swapped(text: string): string {
  return text.replace(/(.)(.)/gs, '$2$1');
}

function toHex(text: string, separator = ''): string {
  return Array.from(text, (character) => character.charCodeAt(0).toString(16).padStart(2, '0')).join(separator);
}

function spellingsOf(serial: string): readonly string[] {
  const laidOut = layouts.map((layout) => layout(serial));
  return [...laidOut, ...separators.flatMap((separator) => laidOut.map((text) => toHex(text, separator)))];
}

/** Two numbers, and a capture that gives both as serial numbers and holds their spellings all over. */
const revealing = fc.tuple(serials, serials).chain(([one, other]) =>
  captures(fc.constantFrom(...spellingsOf(one), ...spellingsOf(other))).map((capture) => ({
    serials: [one, other],
    capture: { ...capture, values: { ...capture.values, serial: one }, sources: withSerial(capture, other) },
  })),
);

function withSerial({ sources }: Capture, serial: string): Capture['sources'] {
  return sources.map((source) => ({ ...source, values: { ...source.values, serial } }));
}

/** Every text in a value, without what lies between its words: padding and separators hide nothing. */
function textsIn(value: unknown): readonly string[] {
  if (typeof value === 'string') return [value.toLowerCase().replace(/[\s\0:]|0x/g, '')];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(textsIn) : [];
}

function holds(capture: unknown, serial: string): boolean {
  const bare = serial.replace(/\s/g, '');
  const sought = textsIn(spellingsOf(bare).map((text) => text.trim())).map((text) =>
    text.replace(/^(?:00|20)+|(?:00|20)+$/g, ''),
  );
  return textsIn(capture).some((text) => sought.some((spelling) => text.includes(spelling)));
}

const bare = fc
  .array(fc.constantFrom(...'ABCDEFGH0123456789'), { minLength: 1, maxLength: 24 })
  .map((all) => all.join(''));

describe('masking', () => {
  it('no text holds a serial number afterwards, plain, padded, byte-swapped or as hexadecimal digits', () => {
    let reached = 0;
    assertLaw(
      100,
      fc.property(revealing, fc.boolean(), ({ capture, serials: hidden }, isDigest) => {
        const policy = isDigest ? { digestOf: () => 'digest:5d1c9a0377be42f1' } : 'masked';
        const masked = maskSerials(capture, policy);
        for (const serial of hidden) expect(holds(masked, serial)).toBe(false);
        if (hidden.every((serial) => holds(capture, serial))) reached++;
      }),
    );
    expectOften(reached, 60);
  });

  it('a serial number that runs over several unnamed fields is in none of them afterwards', () => {
    const cut = fc.record({ serial: serials, isHex: fc.boolean(), width: fc.constantFrom(2, 4, 6) });
    assertLaw(
      100,
      fc.property(cut, ({ serial, isHex, width }) => {
        const field = swapped(serial.padEnd(20));
        const values = (isHex ? toHex(field) : field).match(new RegExp(`[^]{1,${width}}`, 'g')) ?? [];
        const unnamed = [...values, '4b32'].map((value, at) => ({ at: `word ${at}`, value }));
        const masked = maskSerials({ values: { serial }, unnamed }, 'masked');
        expect(holds([masked.unnamed.map(({ value }) => value).join('')], serial)).toBe(false);
        expect(masked.unnamed.at(-1)?.value).toBe('4b32');
      }),
    );
  });

  it('a serial number is shown with four characters at most, and never whole', () => {
    assertLaw(
      200,
      fc.property(bare, (serial) => {
        const { serial: shown } = maskSerials<{ serial?: string }>({ serial }, 'masked');
        if (serial.length === 1) expect(shown).toBeUndefined();
        else {
          expect(shown).toMatch(/^\*{4}.{1,4}$/);
          expect(serial.endsWith(shown?.slice(4) ?? '')).toBe(true);
          expect(shown?.slice(4).length).toBeLessThan(serial.length);
        }
      }),
    );
  });

  it('no digest of what held a serial number is left', () => {
    assertLaw(
      100,
      fc.property(revealing, ({ capture }) => {
        for (const source of maskSerials(capture, 'masked').sources) expect(source).not.toHaveProperty('sha256');
      }),
    );
  });

  it('masking twice is masking once', () => {
    assertLaw(
      100,
      fc.property(revealing, ({ capture }) => {
        const once = maskSerials(capture, 'masked');
        expect(maskSerials(once, 'masked')).toBe(once);
      }),
    );
  });

  it('without a serial number nothing changes', () => {
    const quiet = captures(fc.constantFrom('****4F2K', 'digest:5d1c9a0377be42f1'));
    assertLaw(
      100,
      fc.property(quiet, (capture) => {
        expect(maskSerials(capture, 'masked')).toBe(capture);
      }),
    );
  });
});
