import { expect, it } from 'vitest';
import { exactUpperBound } from '../../server/src/core/odds/exact-bounds.ts';
import { bytesMissing, fullPassMinutes, unreadableShareBound } from '../../server/src/core/terms/verification.ts';

// Source: 1 - 0.05^(1/n) worked out with R, beside 3/n of the rule of three (Eypasch and others, BMJ 311 (1995) 619).
it.each([
  [30, 0.0950339, 0.1],
  [59, 0.0495076, 0.0508],
  [60, 0.0487029, 0.05],
  [100, 0.029513, 0.03],
])('bounds what %i blocks without error leave possible', (blocks, exact, ruleOfThree) => {
  expect(unreadableShareBound(blocks)).toBeCloseTo(exact, 7);
  expect(unreadableShareBound(blocks)).toBeLessThan(ruleOfThree);
});

it('is the exact one-sided bound of no failure in that many trials', () => {
  for (const trials of [1, 2, 7, 60, 1000, 100_000]) {
    expect(unreadableShareBound(trials)).toBeCloseTo(exactUpperBound({ successes: 0, trials }, 0.95), 9);
  }
});

it('keeps its digits for all sectors of a large drive', () => {
  // By hand: -ln 0.05 = 2.995732273554, divided by 5,860,533,168; the next term is 18 digits down.
  expect(unreadableShareBound(5_860_533_168) / (2.995732273554 / 5_860_533_168)).toBeCloseTo(1, 8);
});

it('says how many bytes a share lacks', () => {
  expect(bytesMissing(12_000_000_000, 0.02, 1e12)).toBe(8_000_000_000);
  expect(bytesMissing(20_000_000_000, 0.02, 1e12)).toBe(0);
});

it('says how long all would take, where bytes and minutes tell a pace', () => {
  expect(fullPassMinutes(68_719_476_736, 8.6, 1_000_204_886_016)).toBeCloseTo(125.17, 2);
  expect(fullPassMinutes(0, 8.6, 1e12)).toBeUndefined();
  expect(fullPassMinutes(1e9, 0, 1e12)).toBeUndefined();
});
