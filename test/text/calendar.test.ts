import { describe, expect, it } from 'vitest';
import { dayOf, formatDate, parseDate, parseDaySpan } from '../../server/src/core/terms/calendar.ts';

// Source: ISO 8601, week dates (from memory), worked out twice: Python 3 `date.isocalendar` and GNU `date +%G-W%V-%u` agree on all.
const weekDates: readonly (readonly [date: string, weekDate: string])[] = [
  ['1976-12-31', '1976-W53-5'],
  ['1977-01-01', '1976-W53-6'],
  ['1977-01-02', '1976-W53-7'],
  ['1977-12-31', '1977-W52-6'],
  ['1978-01-01', '1977-W52-7'],
  ['1978-01-02', '1978-W01-1'],
  ['1978-12-31', '1978-W52-7'],
  ['1979-01-01', '1979-W01-1'],
  ['1979-12-30', '1979-W52-7'],
  ['1979-12-31', '1980-W01-1'],
  ['1980-01-01', '1980-W01-2'],
  ['1980-12-28', '1980-W52-7'],
  ['1980-12-29', '1981-W01-1'],
  ['1980-12-31', '1981-W01-3'],
  ['1981-01-01', '1981-W01-4'],
  ['1981-12-31', '1981-W53-4'],
  ['1982-01-03', '1981-W53-7'],
  ['1995-01-01', '1994-W52-7'],
  ['1996-12-31', '1997-W01-2'],
  ['2000-01-01', '1999-W52-6'],
  ['2000-02-29', '2000-W09-2'],
  ['2004-12-31', '2004-W53-5'],
  ['2005-01-01', '2004-W53-6'],
  ['2005-01-02', '2004-W53-7'],
  ['2005-12-31', '2005-W52-6'],
  ['2006-01-01', '2005-W52-7'],
  ['2006-01-02', '2006-W01-1'],
  ['2006-12-31', '2006-W52-7'],
  ['2007-01-01', '2007-W01-1'],
  ['2007-12-30', '2007-W52-7'],
  ['2007-12-31', '2008-W01-1'],
  ['2008-01-01', '2008-W01-2'],
  ['2008-12-28', '2008-W52-7'],
  ['2008-12-29', '2009-W01-1'],
  ['2008-12-31', '2009-W01-3'],
  ['2009-01-01', '2009-W01-4'],
  ['2009-12-31', '2009-W53-4'],
  ['2010-01-03', '2009-W53-7'],
  ['2010-01-04', '2010-W01-1'],
  ['2012-01-01', '2011-W52-7'],
  ['2015-12-31', '2015-W53-4'],
  ['2016-01-03', '2015-W53-7'],
  ['2016-01-04', '2016-W01-1'],
  ['2018-12-31', '2019-W01-1'],
  ['2019-12-30', '2020-W01-1'],
  ['2020-12-31', '2020-W53-4'],
  ['2021-01-03', '2020-W53-7'],
  ['2021-01-04', '2021-W01-1'],
  ['2022-12-31', '2022-W52-6'],
  ['2024-12-30', '2025-W01-1'],
  ['2026-12-31', '2026-W53-4'],
  ['2027-01-03', '2026-W53-7'],
];

// Source: ISO 8601, week dates (from memory); Python 3 `date.isocalendar`.
const longYears = [
  1970, 1976, 1981, 1987, 1992, 1998, 2004, 2009, 2015, 2020, 2026, 2032, 2037, 2043, 2048, 2054, 2060,
];

const years = (first: number, last: number): number[] =>
  Array.from({ length: last - first + 1 }, (_, index) => first + index);

describe('weeks', () => {
  it.each(weekDates)('%s is %s', (date, weekDate) => {
    const [, week = '', weekday] = /^(.*)-(\d)$/.exec(weekDate) ?? [];
    const monday = parseDaySpan(week)?.first ?? Number.NaN;
    expect(formatDate(monday + Number(weekday) - 1)).toBe(date);
    expect(parseDate(date)).toBe(monday + Number(weekday) - 1);
    expect(parseDaySpan(week)).toEqual({ first: monday, last: monday + 6 });
  });

  it('has all 52 dates', () => {
    expect(new Set(weekDates.map(([date]) => date)).size).toBe(52);
  });

  it.each(years(1970, 2060))('%i has a week 53 if it is a long year', (year) => {
    expect(parseDaySpan(`${year}-W53`) !== undefined).toBe(longYears.includes(year));
    expect(parseDaySpan(`${year}-W52`)).toBeDefined();
    expect(parseDaySpan(`${year}-W54`)).toBeUndefined();
    expect(parseDaySpan(`${year}-W00`)).toBeUndefined();
  });

  // Source: ISO 8601 (from memory): the calendar repeats every 400 years, 20,871 weeks.
  it('71 years of every 400 are long', () => {
    for (const first of [1600, 1970, 2001]) {
      const long = years(first, first + 399).filter((year) => parseDaySpan(`${year}-W53`));
      expect(long).toHaveLength(71);
    }
  });

  it('follow one another without a gap, over the turn of every year', () => {
    let next = parseDaySpan('1969-W52')?.last ?? Number.NaN;
    for (const year of years(1970, 2060)) {
      for (let week = 1; week <= (longYears.includes(year) ? 53 : 52); week++) {
        const span = parseDaySpan(`${year}-W${String(week).padStart(2, '0')}`);
        expect(span?.first).toBe(next + 1);
        next = span?.last ?? Number.NaN;
      }
    }
  });

  it.each(['2012-w31', '2012W31', '2012-W3', '2012-W031', '2012-W31-1', '2012-31', '12-W31'])(
    '%s is no week',
    (text) => {
      expect(parseDaySpan(text)).toBeUndefined();
    },
  );
});

describe('dates', () => {
  it.each([
    ['1970-01-01', 0],
    ['1969-12-31', -1],
    ['1970-01-05', 4],
    // Source: GNU `date -u +%s`, divided by the 86,400 seconds of a day.
    ['2000-02-29', 11016],
    ['2000-03-01', 11017],
    ['2012-07-30', 15551],
    ['2026-03-14', 20526],
  ])('%s is day %i', (text, day) => {
    expect(parseDate(text)).toBe(day);
    expect(formatDate(day)).toBe(text);
  });

  // Source: ECMAScript 2025, 21.4.1 (time values are proleptic Gregorian, days of 86,400,000 ms): an independent calendar.
  it('agree with the calendar of the language, day by day from 1890 to 2110', () => {
    const first = Date.UTC(1890, 0, 1) / 86_400_000;
    const last = Date.UTC(2110, 11, 31) / 86_400_000;
    const wrong: string[] = [];
    for (let day = first; day <= last; day++) {
      const text = new Date(day * 86_400_000).toISOString().slice(0, 10);
      if (formatDate(day) !== text || parseDate(text) !== day) wrong.push(text);
    }
    expect(wrong).toEqual([]);
  });

  it.each([
    '2026-02-29',
    '2024-02-30',
    '2026-02-30',
    '2000-02-30',
    '1900-02-29',
    '2100-02-29',
    '2026-04-31',
    '2026-06-31',
    '2026-09-31',
    '2026-11-31',
    '2026-01-32',
    '2026-13-01',
    '2026-00-10',
    '2026-01-00',
  ])('%s is no day of the calendar', (text) => {
    expect(parseDate(text)).toBeUndefined();
    expect(parseDaySpan(text)).toBeUndefined();
  });

  it.each(['', '2026-3-14', '26-03-14', '2026/03/14', '14.03.2026', '2026-03-14T10:00', ' 2026-03-14', '2026-03-14\n'])(
    '%j is no date',
    (text) => {
      expect(parseDate(text)).toBeUndefined();
      expect(parseDaySpan(text)).toBeUndefined();
    },
  );

  // Source: the Gregorian rule, ISO 8601 (from memory): every fourth year, of the full hundreds only every fourth.
  it.each([
    [1600, true],
    [1700, false],
    [1800, false],
    [1900, false],
    [1904, true],
    [1996, true],
    [1999, false],
    [2000, true],
    [2023, false],
    [2024, true],
    [2100, false],
    [2400, true],
  ])('%i is a leap year: %s', (year, isLeap) => {
    expect(dayOf(year, 2, 29) !== undefined).toBe(isLeap);
    const span = parseDaySpan(year);
    expect((span?.last ?? 0) - (span?.first ?? 0) + 1).toBe(isLeap ? 366 : 365);
  });
});

describe('spans', () => {
  it.each([
    ['2012', '2012-01-01', '2012-12-31'],
    [2012, '2012-01-01', '2012-12-31'],
    ['2012-08', '2012-08-01', '2012-08-31'],
    ['2012-02', '2012-02-01', '2012-02-29'],
    ['2013-02', '2013-02-01', '2013-02-28'],
    ['2012-12', '2012-12-01', '2012-12-31'],
    ['2012-08-03', '2012-08-03', '2012-08-03'],
    ['2012-W31', '2012-07-30', '2012-08-05'],
    ['2009-W53', '2009-12-28', '2010-01-03'],
    ['2020-W01', '2019-12-30', '2020-01-05'],
  ])('%s runs from %s to %s', (value, first, last) => {
    expect(parseDaySpan(value)).toEqual({ first: parseDate(first), last: parseDate(last) });
  });

  it.each(['2012-00', '2012-13', '2012-8', '2012-', 'W31', '201', '20120803', 201, 20120, 2012.5, -2012, Number.NaN])(
    '%s is no span',
    (value) => {
      expect(parseDaySpan(value)).toBeUndefined();
    },
  );
});
