import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayOf, formatDate, parseDate, parseDaySpan } from '../../server/src/core/terms/calendar.ts';
import { assertLaw } from '../harness/assert-law.ts';

const msPerDay = 86_400_000;
/** The years 1 to 9998, all days: what four digits can write, less one at each end for the weeks that reach over it. */
const days = fc.integer({ min: Date.UTC(1970) / msPerDay - 719_162, max: Date.UTC(9998, 11, 31) / msPerDay });

/** The same date by the calendar of the JavaScript engine. */
function engineDate(day: number): string {
  return new Date(day * msPerDay).toISOString().slice(0, 10);
}

/** The ISO week of a day: that of its Thursday, counted from the first Thursday of that one's year. */
function engineWeek(day: number): string {
  const weekday = (new Date(day * msPerDay).getUTCDay() + 6) % 7;
  const thursday = day - weekday + 3;
  const year = engineDate(thursday).slice(0, 4);
  const week = 1 + Math.floor((thursday - Date.parse(`${year}-01-01`) / msPerDay) / 7);
  return `${year}-W${String(week).padStart(2, '0')}`;
}

describe('calendar', () => {
  it('a day and its date name each other', () => {
    assertLaw(
      2000,
      fc.property(days, (day) => {
        const date = engineDate(day);
        expect(formatDate(day)).toBe(date);
        expect(parseDate(date)).toBe(day);
        const [year, month, dayOfMonth] = date.split('-').map(Number);
        expect(dayOf(year!, month!, dayOfMonth!)).toBe(day);
      }),
    );
    const numbers = fc.tuple(fc.integer({ min: 1, max: 9998 }), fc.nat(14), fc.nat(33));
    assertLaw(
      2000,
      fc.property(numbers, ([year, month, dayOfMonth]) => {
        const day = dayOf(year, month, dayOfMonth);
        const text = [String(year).padStart(4, '0'), ...[month, dayOfMonth].map((n) => String(n).padStart(2, '0'))];
        const isDate = !Number.isNaN(Date.parse(text.join('-'))) && engineDate(day ?? 0) === text.join('-');
        expect(day !== undefined).toBe(isDate);
      }),
    );
  });

  it('every day lies in the week, month and year that name it', () => {
    assertLaw(
      2000,
      fc.property(days, (day) => {
        const date = engineDate(day);
        const names = [date, date.slice(0, 7), date.slice(0, 4), Number(date.slice(0, 4)), engineWeek(day)];
        const spans = names
          .filter((name) => typeof name === 'string' || name > 999)
          .map((name) => ({ name, span: parseDaySpan(name)! }));
        for (const { name, span } of spans) {
          expect(span.first).toBeLessThanOrEqual(day);
          expect(span.last).toBeGreaterThanOrEqual(day);
          // Nor does it lie in the one before or after.
          expect(String(name).includes('W') ? engineWeek(span.first) : engineDate(span.first)).toContain(String(name));
          expect(String(name).includes('W') ? engineWeek(span.last) : engineDate(span.last)).toContain(String(name));
          expect(nameLike(name, span.first - 1)).not.toBe(String(name));
          expect(nameLike(name, span.last + 1)).not.toBe(String(name));
        }
      }),
    );
  });

  it('a span ends no earlier than it begins', () => {
    const digits = fc.integer({ min: 0, max: 99 }).map((n) => String(n).padStart(2, '0'));
    const year = fc.integer({ min: 0, max: 9999 }).map((n) => String(n).padStart(4, '0'));
    const parts = fc.array(
      fc.oneof(
        digits,
        digits.map((week) => `W${week}`),
      ),
      { maxLength: 2 },
    );
    const texts = fc.tuple(year, parts).map(([first, rest]) => [first, ...rest].join('-'));
    assertLaw(
      3000,
      fc.property(fc.oneof(texts, fc.integer({ min: -10, max: 20_000 }), fc.string()), (value) => {
        const span = parseDaySpan(value);
        if (span) expect(span.last).toBeGreaterThanOrEqual(span.first);
      }),
    );
  });
});

/** What a day is called in the manner of a name: by its week, date, month or year. */
function nameLike(name: string | number, day: number): string {
  return String(name).includes('W') ? engineWeek(day) : engineDate(day).slice(0, String(name).length);
}
