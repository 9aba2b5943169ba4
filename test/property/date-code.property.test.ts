import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayOf, formatDate, parseDate } from '../../server/src/core/terms/calendar.ts';
import { decodeDateCode } from '../../server/src/core/terms/date-code.ts';

const day = fc.integer({ min: parseDate('1956-01-10') ?? 0, max: parseDate('2055-12-20') ?? 0 });

function pad(value: number): string {
  return String(value).padStart(2, '0');
}

/** Year, week and day of the week by Thursdays, another way than the one under test. Source: ISO 8601 (from memory). */
function isoWeek(date: number): { year: number; week: number; weekday: number } {
  const weekday = (((date + 3) % 7) + 7) % 7;
  const thursday = date - weekday + 3;
  const year = Number(formatDate(thursday).slice(0, 4));
  return { year, week: Math.floor((thursday - (dayOf(year, 1, 1) ?? 0)) / 7) + 1, weekday: weekday + 1 };
}

describe('date codes', () => {
  it('the code printed for a day is read as a span that holds the day', () => {
    fc.assert(
      fc.property(day, (date) => {
        const [year = '', month = '', dayOfMonth = ''] = formatDate(date).split('-');
        const iso = isoWeek(date);
        const codes = [
          [`${dayOfMonth}.${month}.${year.slice(2)}`, { scheme: 'calendar', format: 'DD.MM.YY' }],
          [`${year}/${month}`, { scheme: 'calendar', format: 'YYYY/MM' }],
          [`${iso.year}${pad(iso.week)}${iso.weekday}`, { scheme: 'iso_week', format: 'YYYYWWD' }],
          [`${pad(iso.week)} ${iso.year}`, { scheme: 'iso_week', format: 'WW YYYY' }],
        ] as const;
        for (const [code, scheme] of codes) {
          const reading = decodeDateCode(code, scheme);
          expect(reading.state === 'read' && reading.span.first <= date && date <= reading.span.last).toBe(true);
        }
      }),
      { seed: 1 },
    );
  });

  it('a fiscal week is known to one week either way', () => {
    const week = fc.integer({ min: 1, max: 52 });
    const start = fc.constantFrom('01-01', '04-01', '07-01', '10-01');
    fc.assert(
      fc.property(fc.integer({ min: 1960, max: 2050 }), week, start, (year, number, starts) => {
        const scheme = { scheme: 'fiscal_week', format: 'YYYYWW', fiscal_year_starts: starts } as const;
        const reading = decodeDateCode(`${year}${pad(number)}`, scheme);
        const [month = 0, dayOfMonth = 0] = starts.split('-').map(Number);
        const first = (dayOf(starts === '01-01' ? year : year - 1, month, dayOfMonth) ?? 0) + 7 * (number - 1);
        expect(reading).toEqual({ state: 'read', span: { first: first - 7, last: first + 13 } });
      }),
      { seed: 2 },
    );
  });

  it('never throws, whatever is printed', () => {
    const format = fc.array(fc.constantFrom('YYYY', 'YY', 'WW', 'MM', 'DD', 'D', '/', '.', ' ', '(', '*', '\\'));
    fc.assert(
      fc.property(
        fc.string(),
        format,
        fc.constantFrom('iso_week', 'fiscal_week', 'calendar'),
        (code, parts, scheme) => {
          const reading = decodeDateCode(code, { scheme, format: parts.join(''), fiscal_year_starts: '07-01' });
          expect(reading.state).toBeDefined();
        },
      ),
      { seed: 3 },
    );
  });
});
