import { expect, it } from 'vitest';
import { shortName } from '../../server/src/core/text/short-name.ts';

it('stands on one line, with what is not seen made visible', () => {
  expect(shortName('Quay\nbench \u202e')).toBe('Quay\\u000abench \\u202e');
});

it('is cut at 80 code units, escapes among them, and within no character', () => {
  expect(shortName('x'.repeat(1_000_000))).toBe(`${'x'.repeat(79)}…`);
  expect(shortName('\n'.repeat(80))).toHaveLength(80);
  expect(shortName(`${'x'.repeat(78)}😀y`)).toBe(`${'x'.repeat(78)}…`);
  expect(shortName('x'.repeat(80))).toBe('x'.repeat(80));
});
