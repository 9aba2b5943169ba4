import { expect, it } from 'vitest';
import { oneIn } from '../../server/src/core/text/one-in.ts';

it.each([
  [0.95, '1 in 1'],
  [0.2589, '1 in 3.8'],
  [0.1, '1 in 10'],
  [0.029513, '1 in 33'],
  [1.5335e-9, '1 in 650,000,000'],
])('%d is %s, which is no less', (share, words) => {
  expect(oneIn(share)).toBe(words);
});
