import { describe, expect, it } from 'vitest';
import { formatSpan } from '../../server/src/core/terms/calendar.ts';
import { type DateCodeScheme, decodeDateCode } from '../../server/src/core/terms/date-code.ts';

function read(code: string, scheme: DateCodeScheme): string {
  const reading = decodeDateCode(code, scheme);
  if (reading.state === 'read') return formatSpan(reading.span);
  return reading.state === 'no_such_day' ? `no ${reading.says}` : reading.state;
}

/**
 * Dates and their ISO 8601 weeks at the ends of years. Source: ISO 8601, recomputed with Python `date.isocalendar` and GNU
 * `date +%G-W%V-%u`, which agree on all of them. One page on the web has 2022-12-31 in 2023-W01; it is wrong.
 */
const weeks =
  `1976-12-31 1976-W53-5, 1977-01-01 1976-W53-6, 1977-01-02 1976-W53-7, 1977-12-31 1977-W52-6, 1978-01-01 1977-W52-7,
1978-01-02 1978-W01-1, 1978-12-31 1978-W52-7, 1979-01-01 1979-W01-1, 1979-12-30 1979-W52-7, 1979-12-31 1980-W01-1,
1980-01-01 1980-W01-2, 1980-12-28 1980-W52-7, 1980-12-29 1981-W01-1, 1981-12-31 1981-W53-4, 1982-01-03 1981-W53-7,
1995-01-01 1994-W52-7, 1996-12-31 1997-W01-2, 2000-01-01 1999-W52-6, 2000-02-29 2000-W09-2, 2004-12-31 2004-W53-5,
2005-01-01 2004-W53-6, 2005-01-02 2004-W53-7, 2005-12-31 2005-W52-6, 2006-01-01 2005-W52-7, 2006-01-02 2006-W01-1,
2006-12-31 2006-W52-7, 2007-01-01 2007-W01-1, 2007-12-30 2007-W52-7, 2007-12-31 2008-W01-1, 2008-01-01 2008-W01-2,
2008-12-28 2008-W52-7, 2008-12-29 2009-W01-1, 2008-12-31 2009-W01-3, 2009-01-01 2009-W01-4, 2009-12-31 2009-W53-4,
2010-01-03 2009-W53-7, 2010-01-04 2010-W01-1, 2012-01-01 2011-W52-7, 2015-12-31 2015-W53-4, 2016-01-03 2015-W53-7,
2016-01-04 2016-W01-1, 2018-12-31 2019-W01-1, 2019-12-30 2020-W01-1, 2020-12-31 2020-W53-4, 2021-01-03 2020-W53-7,
2021-01-04 2021-W01-1, 2022-12-31 2022-W52-6, 2024-12-30 2025-W01-1, 2026-12-31 2026-W53-4, 2027-01-03 2026-W53-7`
    .split(/,\s+/)
    .map((pair) => pair.split(' ') as [string, string]);

describe('ISO weeks', () => {
  it.each(weeks)('%s is %s', (date, week) => {
    const code = week.replace(/[W-]/g, '');
    expect(read(code, { scheme: 'iso_week', format: 'YYYYWWD' })).toBe(date);
    expect(read(code.slice(2), { scheme: 'iso_week', format: 'YYWWD' })).toBe(date);
  });

  it('has a week 53 in the long years only', () => {
    // Source: ISO 8601; the list by Python, equal to that of clndr.org.
    const long = [1970, 1976, 1981, 1987, 1992, 1998, 2004, 2009, 2015, 2020, 2026, 2032, 2037, 2043, 2048, 2054, 2060];
    const years = Array.from({ length: 91 }, (_, offset) => 1970 + offset);
    const scheme = { scheme: 'iso_week', format: 'YYYYWW' } as const;
    expect(years.filter((year) => decodeDateCode(`${year}53`, scheme).state === 'read')).toEqual(long);
  });

  it('covers whole weeks and years', () => {
    expect(read('12/31', { scheme: 'iso_week', format: 'YY/WW' })).toBe('2012-07-30 to 2012-08-05');
    expect(read('2009', { scheme: 'iso_week', format: 'YYYY' })).toBe('2008-12-29 to 2010-01-03');
  });

  it.each([
    ['1200', 'no week 0 of 2012'],
    ['1253', 'no week 53 of 2012'],
    ['1271', 'no week 71 of 2012'],
  ])('has no week %s', (code, says) => {
    expect(read(code, { scheme: 'iso_week', format: 'YYWW' })).toBe(says);
  });

  it.each(['12018', '12010'])('has no day %s', (code) => {
    expect(read(code, { scheme: 'iso_week', format: 'YYWWD' })).toMatch(/^no day [08] of week 1 of 2012$/);
  });
});

describe('fiscal weeks', () => {
  // Worked by hand: the year is named by the one it ends in, week 1 begins on its first day, and a week either way is open.
  const july = { scheme: 'fiscal_week', format: 'YYWW', fiscal_year_starts: '07-01' } as const;

  it.each([
    ['1301', july, '2012-06-24 to 2012-07-14'],
    ['1305', july, '2012-07-22 to 2012-08-11'],
    ['1353', july, '2013-06-23 to 2013-07-13'],
    ['0001', july, '1999-06-24 to 1999-07-14'],
    ['1201', { ...july, fiscal_year_starts: '10-01' }, '2011-09-24 to 2011-10-14'],
    ['1201', { ...july, fiscal_year_starts: '01-01' }, '2011-12-25 to 2012-01-14'],
    ['13011', { ...july, format: 'YYWWD' }, '2012-06-24 to 2012-07-08'],
    ['13017', { ...july, format: 'YYWWD' }, '2012-06-30 to 2012-07-14'],
    ['2013', { ...july, format: 'YYYY' }, '2012-06-24 to 2013-07-07'],
  ])('%s', (code, scheme, span) => {
    expect(read(code, scheme)).toBe(span);
  });

  it.each(['1300', '1354'])('has no week %s', (code) => {
    expect(read(code, july)).toMatch(/^no week/);
  });

  it('says nothing without the start of the year', () => {
    expect(read('1305', { scheme: 'fiscal_week', format: 'YYWW' })).toBe('incomplete');
  });
});

describe('calendar dates', () => {
  it.each([
    ['19.02.2004', 'DD.MM.YYYY', '2004-02-19'],
    ['040219', 'YYMMDD', '2004-02-19'],
    ['0212', 'MMYY', '2012-02-01 to 2012-02-29'],
    ['56', 'YY', '1956-01-01 to 1956-12-31'],
    ['55', 'YY', '2055-01-01 to 2055-12-31'],
    ['30.02.2004', 'DD.MM.YYYY', 'no day 30 of month 2 of 2004'],
    ['1312', 'MMYY', 'no month 13 of 2012'],
    ['19-02-2004', 'DD.MM.YYYY', 'other_form'],
    ['1.2.2004', 'DD.MM.YYYY', 'other_form'],
    ['2004x02', 'YYYY.MM', 'other_form'],
    ['12 2012', 'YY YYYY', '2012-01-01 to 2012-12-31'],
    ['12 2013', 'YY YYYY', 'other_form'],
  ])('%s in %s', (code, format, expected) => {
    expect(read(code, { scheme: 'calendar', format })).toBe(expected);
  });
});

describe('schemes that say too little', () => {
  it.each([
    [{ format: 'YYWW' }],
    [{ scheme: 'iso_week' }],
    [{ scheme: 'iso_week', format: 'YYMM' }],
    [{ scheme: 'iso_week', format: 'YYD' }],
    [{ scheme: 'calendar', format: 'YYWW' }],
    [{ scheme: 'calendar', format: 'YYDD' }],
    [{ scheme: 'calendar', format: 'MMDD' }],
  ] as const)('%o', (scheme) => {
    expect(decodeDateCode('1201', scheme)).toEqual({ state: 'incomplete' });
  });
});
