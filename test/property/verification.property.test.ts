import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bytesMissing, fullPassMinutes, unreadableShareBound } from '../../server/src/core/terms/verification.ts';
import { assertLaw } from '../harness/assert-law.ts';

/** Blocks from one to those of the largest drives, small numbers as often as large ones. */
const blocks = fc.double({ min: 0, max: 11, noNaN: true }).map((power) => Math.floor(10 ** power));
const bytes = fc.integer({ min: 1, max: 30e12 });

describe('verification', () => {
  it('with as much unreadable as the bound says, as many blocks pass without error just once in twenty times', () => {
    assertLaw(
      1000,
      fc.property(blocks, (count) => {
        expect(Math.exp(count * Math.log1p(-unreadableShareBound(count)))).toBeCloseTo(0.05, 10);
      }),
    );
  });

  it('the bound lies below three divided by the number of blocks, and not far below where they are many', () => {
    assertLaw(
      1000,
      fc.property(blocks, (count) => {
        const three = 3 / count;
        expect(unreadableShareBound(count)).toBeLessThan(three);
        // -ln 0.05 is 2.9957; the next term of the series is half its square.
        expect(unreadableShareBound(count)).toBeGreaterThan(three * (0.9985 - 1.5 / count));
      }),
    );
  });

  it('more blocks without error lower the bound', () => {
    assertLaw(
      1000,
      fc.property(blocks, fc.integer({ min: 2, max: 1000 }), (count, times) => {
        expect(unreadableShareBound(count * times)).toBeLessThan(unreadableShareBound(count));
        expect(unreadableShareBound(count)).toBeLessThan(1);
      }),
    );
  });

  it('what is missing, once compared, reaches the share, and a byte less does not', () => {
    assertLaw(
      1000,
      fc.property(bytes, bytes, fc.integer({ min: 0, max: 1000 }), (compared, capacity, permille) => {
        const wanted = permille / 1000;
        const missing = bytesMissing(compared, wanted, capacity);
        expect(Number.isInteger(missing)).toBe(true);
        expect(compared + missing).toBeGreaterThanOrEqual(wanted * capacity);
        if (missing > 0) expect(compared + missing - 1).toBeLessThan(wanted * capacity);
      }),
    );
  });

  it('a full pass keeps the pace that was observed', () => {
    assertLaw(
      1000,
      fc.property(bytes, bytes, fc.double({ min: 0.1, max: 10_000, noNaN: true }), (read, capacity, minutes) => {
        const full = fullPassMinutes(read, minutes, capacity) ?? Number.NaN;
        expect((capacity / full / (read / minutes)).toFixed(9)).toBe('1.000000000');
        expect(fullPassMinutes(read, minutes, read)).toBeCloseTo(minutes, 6);
      }),
    );
  });
});
