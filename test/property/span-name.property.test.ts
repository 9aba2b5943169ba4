import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDaySpan } from '../../server/src/core/terms/calendar.ts';
import { spanName } from '../../server/src/core/terms/span-name.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';

const two = (n: number): string => String(n).padStart(2, '0');
const year = fc.integer({ min: 1, max: 9998 }).map((n) => String(n).padStart(4, '0'));
const month = fc.tuple(year, fc.integer({ min: 1, max: 12 }).map(two)).map((parts) => parts.join('-'));
const date = fc.tuple(month, fc.integer({ min: 1, max: 31 }).map(two)).map((parts) => parts.join('-'));
const week = fc.tuple(year, fc.integer({ min: 1, max: 53 }).map(two)).map((parts) => parts.join('-W'));

describe('names of spans', () => {
  it('the name of a day, week, month or year is read as that span', () => {
    assertLaw(
      3000,
      fc.property(fc.oneof(date, week, month, year), (name) => {
        const span = parseDaySpan(name);
        if (span) expect(spanName(span)).toBe(name);
      }),
    );
  });

  it('the weeks in the name of any other span are the fewest that hold it', () => {
    const days = { min: -20_000, max: 60_000 };
    let seen = 0;
    assertLaw(
      3000,
      fc.property(fc.integer(days), fc.integer({ min: 1, max: 800 }), (first, length) => {
        const name = spanName({ first, last: first + length });
        const [, start = '', end] = /^(\d{4}-W\d{2})(?: to ((?:\d{4}-)?W\d{2}))?$/.exec(name) ?? [];
        // One that is exactly a month or a year has another name.
        if (start === '') return;
        const weeks = [start, end === undefined ? start : end.startsWith('W') ? start.slice(0, 5) + end : end];
        const [from, to] = weeks.map((one) => parseDaySpan(one)!);
        expect(from!.first <= first && first <= from!.last).toBe(true);
        expect(to!.first <= first + length && first + length <= to!.last).toBe(true);
        seen++;
      }),
    );
    expectOften(seen, 2000);
  });
});
