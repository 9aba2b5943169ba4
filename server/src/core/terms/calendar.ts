/**
 * Civil dates as whole days, without a clock (invariant 1).
 * Laws (test/property/calendar.property.test.ts):
 * - a day and its date name each other
 * - every day lies in the week, month and year that name it
 * - a span ends no earlier than it begins
 */

/** Days since 1970-01-01 in the proleptic Gregorian calendar; may be negative. */
export type Day = number;

/** Days from the first to the last, both included. */
export interface DaySpan {
  readonly first: Day;
  readonly last: Day;
}

/** The day of a date, or undefined where the calendar has no such day. Months count from 1. */
export function dayOf(year: number, month: number, dayOfMonth: number): Day | undefined {
  if (month < 1 || month > 12 || dayOfMonth < 1 || dayOfMonth > daysInMonth(year, month)) return undefined;
  return daysBeforeYear(year) + daysBeforeMonth(year, month) + dayOfMonth - 1;
}

/** A date such as `2026-03-14`; undefined for anything else, 30 February included. */
export function parseDate(text: string): Day | undefined {
  if (text.length !== 10 || text.charCodeAt(4) !== hyphen || text.charCodeAt(7) !== hyphen) return undefined;
  const year = digitsAt(text, 0, 4);
  const month = digitsAt(text, 5, 7);
  const dayOfMonth = digitsAt(text, 8, 10);
  if (year === undefined || month === undefined || dayOfMonth === undefined) return undefined;
  return dayOf(year, month, dayOfMonth);
}

const hyphen = 45;
const zero = 48;

/** The number made of the digits from `start` to before `end`; undefined where one is none. Much cheaper than a pattern. */
function digitsAt(text: string, start: number, end: number): number | undefined {
  let value = 0;
  for (let at = start; at < end; at++) {
    const digit = text.charCodeAt(at) - zero;
    if (!(digit >= 0 && digit <= 9)) return undefined;
    value = value * 10 + digit;
  }
  return value;
}

/** The date of a day, as `2026-03-14`. */
export function formatDate(day: Day): string {
  let year = 1970 + Math.floor(day / 365.2425);
  while (daysBeforeYear(year) > day) year--;
  while (daysBeforeYear(year + 1) <= day) year++;
  let month = 12;
  while (daysBeforeYear(year) + daysBeforeMonth(year, month) > day) month--;
  const dayOfMonth = day - daysBeforeYear(year) - daysBeforeMonth(year, month) + 1;
  return `${pad(year, 4)}-${pad(month, 2)}-${pad(dayOfMonth, 2)}`;
}

/** A span in words: `2012-08-03`, or `2012-07-30 to 2012-08-05`. */
export function formatSpan({ first, last }: DaySpan): string {
  return first === last ? formatDate(first) : `${formatDate(first)} to ${formatDate(last)}`;
}

/** Whether two spans share a day. */
export function doMeet(a: DaySpan, b: DaySpan): boolean {
  return a.first <= b.last && b.first <= a.last;
}

/**
 * The days that a week (`2012-W31`), month (`2012-08`), date (`2012-08-03`) or year (`2012`, text or number) covers;
 * undefined for anything else. Weeks begin on Monday, and week 1 holds the year's first Thursday.
 * Source: ISO 8601, week dates (from memory).
 */
export function parseDaySpan(value: string | number): DaySpan | undefined {
  const text = String(value);
  const date = parseDate(text);
  if (date !== undefined) return { first: date, last: date };
  const parts = /^(\d{4})(?:-(?:W(\d{2})|(\d{2})))?$/.exec(text);
  if (!parts) return undefined;
  const year = Number(parts[1]);
  if (parts[2] !== undefined) return weekSpan(year, Number(parts[2]));
  if (parts[3] !== undefined) return monthSpan(year, Number(parts[3]));
  return { first: daysBeforeYear(year), last: daysBeforeYear(year + 1) - 1 };
}

/** Days a date may lie ahead: where it was written it may be tomorrow already. */
const grace = 1;

/** Whether a date, or a span from its first day on, has not come yet. What is no date has. */
export function isAhead(value: string | number | undefined, today: Day): boolean {
  const first = value === undefined ? undefined : parseDaySpan(value)?.first;
  return first !== undefined && first > today + grace;
}

function monthSpan(year: number, month: number): DaySpan | undefined {
  const first = dayOf(year, month, 1);
  return first === undefined ? undefined : { first, last: first + daysInMonth(year, month) - 1 };
}

function weekSpan(year: number, week: number): DaySpan | undefined {
  const first = mondayOfWeekOne(year) + 7 * (week - 1);
  if (week < 1 || first >= mondayOfWeekOne(year + 1)) return undefined;
  return { first, last: first + 6 };
}

function mondayOfWeekOne(year: number): Day {
  const fourth = daysBeforeYear(year) + 3;
  // 1970-01-01 was a Thursday, so day 4 (1970-01-05) is a Monday.
  const daysSinceMonday = (((fourth - 4) % 7) + 7) % 7;
  return fourth - daysSinceMonday;
}

function daysBeforeYear(year: number): number {
  const whole = year - 1;
  return whole * 365 + Math.floor(whole / 4) - Math.floor(whole / 100) + Math.floor(whole / 400) - 719162;
}

function daysBeforeMonth(year: number, month: number): number {
  const isAfterLeapDay = month > 2 && isLeapYear(year);
  return (daysBefore[month - 1] ?? 0) + (isAfterLeapDay ? 1 : 0);
}

/** Days of a common year before each month. */
const daysBefore = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334] as const;

function daysInMonth(year: number, month: number): number {
  if (month === 2) return isLeapYear(year) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

function isLeapYear(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

function pad(value: number, width: number): string {
  return String(value).padStart(width, '0');
}
