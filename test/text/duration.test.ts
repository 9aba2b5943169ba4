import { expect, it } from 'vitest';
import { duration } from '../../server/src/core/text/duration.ts';

it.each([
  [0, 'under a minute'],
  [0.4, 'under a minute'],
  [0.5, '1 min'],
  [59.4, '59 min'],
  [59.5, '1 h'],
  [348, '5 h 48 min'],
  [2879.4, '47 h 59 min'],
  [2879.5, '2 days'],
  [4560, '3 days 4 h'],
])('%d minutes are %s', (minutes, words) => {
  expect(duration(minutes)).toBe(words);
});
