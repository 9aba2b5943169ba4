import { expect, it } from 'vitest';
import { wrapText } from '../../server/src/core/reports/render-text.ts';

it('lines are broken at spaces, but not between a number and its per cent sign', () => {
  expect(wrapText('odds of 81 % and more', 10)).toEqual(['odds of', '81 % and', 'more']);
  expect(wrapText('many   % signs', 6)).toEqual(['many %', 'signs']);
});
