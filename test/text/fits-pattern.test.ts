import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitsPattern } from '../../server/src/core/text/fits-pattern.ts';

describe('fitsPattern', () => {
  it.each([
    ['NT10-21', 'NT?0*-2*', true],
    ['NT10-21', 'nt10-21', true],
    ['NT10-21', 'NT10', false],
    ['NT10', 'NT10-21', false],
    ['NT10', 'NT10*', true],
    ['', '*', true],
    ['', '?', false],
    ['NT/10', 'NT?10', true],
    ['NT.10', 'NT[.]10', false],
    ['NT  10', 'NT 10', true],
    ['N🐦1', 'N?1', true],
    ['aXbXc', 'a*X*c', true],
    ['aXb', 'a*c', false],
  ])('%s in %s: %s', (text, pattern, expected) => {
    expect(fitsPattern(text, pattern)).toBe(expected);
  });

  it('agrees with a regular expression', () => {
    const letters = fc.string({ unit: fc.constantFrom('a', 'b', '*', '?'), maxLength: 8 });
    const text = fc.string({ unit: fc.constantFrom('a', 'b'), maxLength: 8 });
    fc.assert(
      fc.property(text, letters, (given, pattern) => {
        const source = pattern.replaceAll('?', '.').replaceAll('*', '.*');
        expect(fitsPattern(given, pattern)).toBe(new RegExp(`^${source}$`).test(given));
      }),
      { seed: 1, numRuns: 2000 },
    );
  });

  it('takes no exponential time', () => {
    expect(fitsPattern('a'.repeat(5000), `${'*a'.repeat(50)}*b`)).toBe(false);
  });
});
