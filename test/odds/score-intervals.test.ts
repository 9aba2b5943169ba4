import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import type { Tally } from '../../server/src/core/odds/exact-bounds.ts';
import { jeffreysInterval } from '../../server/src/core/odds/jeffreys-interval.ts';
import { wilsonInterval } from '../../server/src/core/odds/wilson-interval.ts';

const lines = readFileSync(new URL('../fixtures/stats/score-intervals.txt', import.meta.url), 'utf8')
  .split('\n')
  .filter((line) => /^\d/.test(line))
  .map((line) => line.split(' '));

it('has the table', () => expect(lines).toHaveLength(63));

it.each(lines.filter(([, confidence]) => confidence === '0.95'))(
  'Wilson agrees with R 4.2.2 on %s',
  (rate, _, low, high) => {
    const interval = wilsonInterval(tallyOf(rate));
    expect(interval[0]).toBeCloseTo(Number(low), 8);
    expect(interval[1]).toBeCloseTo(Number(high), 8);
  },
);

it.each(lines)('Jeffreys agrees with R 4.2.2 on %s at %s, but for ends at 0 and 1', (rate, confidence, ...ends) => {
  const { successes, trials } = tallyOf(rate);
  const [, , low, high] = ends.map(Number);
  const interval = jeffreysInterval({ successes, trials }, Number(confidence));
  expect(interval[0]).toBeCloseTo(successes === 0 ? 0 : low!, successes === 0 ? 300 : 8);
  expect(interval[1]).toBeCloseTo(successes === trials ? 1 : high!, successes === trials ? 300 : 8);
});

function tallyOf(rate = ''): Tally {
  const [successes = 0, trials = 0] = rate.split('/').map(Number);
  return { successes, trials };
}

// Source: Newcombe, Statistics in Medicine 17 (1998) 857, table I, score method (values from memory).
it.each([
  [81, 263, 0.2553, 0.3662],
  [15, 148, 0.0624, 0.1605],
  [0, 20, 0, 0.1611],
  [1, 29, 0.0061, 0.1718],
])('Wilson agrees with the published table on %i in %i', (successes, trials, low, high) => {
  const interval = wilsonInterval({ successes, trials });
  expect(interval[0]).toBeCloseTo(low, 4);
  expect(interval[1]).toBeCloseTo(high, 4);
});
