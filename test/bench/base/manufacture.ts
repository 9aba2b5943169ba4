import { type Day, dayOf, formatDate } from '../../../server/src/core/terms/calendar.ts';
import { at, type Random } from './random.ts';
import type { DateScheme, Made, Maker } from './things.ts';

/** How each scheme prints a date, for the maker's record. */
export const dateFormats: Readonly<Record<DateScheme, { readonly scheme: string; readonly format: string }>> = {
  iso_week: { scheme: 'iso_week', format: 'YYWW' },
  iso_day: { scheme: 'iso_week', format: 'YYWWD' },
  fiscal_week: { scheme: 'fiscal_week', format: 'YYWW' },
  calendar: { scheme: 'calendar', format: 'DD.MM.YYYY' },
};

/** First day of the fiscal year of makers that have one. */
export const fiscalYearStarts = '07-01';

/** A date of manufacture in one of these years, as the maker prints it and as the record has it. */
export function pickMade(random: Random, maker: Maker, years: { readonly from: number; readonly to: number }): Made {
  const year = random.integer(years.from, years.to);
  const day = dateOf(year, random.integer(1, 12), random.integer(10, 20));
  switch (maker.scheme) {
    case 'iso_week':
    case 'iso_day': {
      const { weekYear, week, weekday } = isoWeekOf(day);
      const code = `${twoDigits(weekYear % 100)}${twoDigits(week)}`;
      if (maker.scheme === 'iso_day')
        return { made: { moment: formatDate(day) }, code: `${code}${weekday}`, lastDay: day };
      return { made: { moment: `${weekYear}-W${twoDigits(week)}` }, code, lastDay: day + 7 - weekday };
    }
    case 'fiscal_week':
      // The middle of a month lies well inside it even where the week is counted from another weekday.
      return { made: { moment: formatDate(day).slice(0, 7) }, code: fiscalCode(day), lastDay: day + 21 };
    case 'calendar':
      return { made: { moment: formatDate(day) }, code: formatDate(day).split('-').reverse().join('.'), lastDay: day };
  }
}

/** The day of a date that exists. */
export function dateOf(year: number, month: number, dayOfMonth: number): Day {
  const day = dayOf(year, month, dayOfMonth);
  if (day === undefined) throw new RangeError(`${year}-${month}-${dayOfMonth} is no date`);
  return day;
}

/** Week and weekday (Monday is 1) of a day. Source: ISO 8601: a week belongs to the year of its Thursday. */
function isoWeekOf(day: Day): { readonly weekYear: number; readonly week: number; readonly weekday: number } {
  // 1970-01-01 was a Thursday.
  const weekday = 1 + ((((day + 3) % 7) + 7) % 7);
  const thursday = day + 4 - weekday;
  const weekYear = yearOf(thursday);
  return { weekYear, week: 1 + Math.floor((thursday - dateOf(weekYear, 1, 1)) / 7), weekday };
}

/** A fiscal year is named for the calendar year it ends in. */
function fiscalCode(day: Day): string {
  const [month = 1, dayOfMonth = 1] = fiscalYearStarts.split('-').map(Number);
  const year = yearOf(day);
  const startYear = dateOf(year, month, dayOfMonth) <= day ? year : year - 1;
  const week = 1 + Math.floor((day - dateOf(startYear, month, dayOfMonth)) / 7);
  return `${twoDigits((startYear + 1) % 100)}${twoDigits(week)}`;
}

function yearOf(day: Day): number {
  return Number(at(formatDate(day).split('-'), 0));
}

function twoDigits(value: number): string {
  return String(value).padStart(2, '0');
}
