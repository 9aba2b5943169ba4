/**
 * Dates of manufacture as makers print them.
 * Laws (test/property/date-code.property.test.ts):
 * - the code printed for a day is read as a span that holds the day
 * - a fiscal week is known to one week either way
 * - never throws, whatever is printed
 */
import { type DaySpan, dayOf, parseDaySpan } from './calendar.ts';
import { remembered } from './remembered.ts';

/** How a maker prints dates, with the names the records use. */
export interface DateCodeScheme {
  readonly scheme?: 'iso_week' | 'fiscal_week' | 'calendar';
  /** Made of `YYYY YY WW MM DD D` and separators that stand for themselves. */
  readonly format?: string;
  /** `MM-DD`. */
  readonly fiscal_year_starts?: string;
}

/** What a scheme makes of a code. */
export type DateCodeReading =
  | { readonly state: 'read'; readonly span: DaySpan }
  /** The form fits, but there is no such week, month or day. `says` completes "… stands for …". */
  | { readonly state: 'no_such_day'; readonly says: string }
  | { readonly state: 'other_form' }
  /** The scheme itself says too little, or mixes weeks and months, so that nothing follows from it. */
  | { readonly state: 'incomplete' };

/** The numbers in a code. */
interface Parts {
  readonly year: number;
  readonly week?: number;
  readonly month?: number;
  readonly dayOfMonth?: number;
  readonly dayOfWeek?: number;
}

/** Two-digit years from here on are of the 1900s. Source: the first disk drive was sold in 1956 (from memory). */
const firstYear = 56;

/** Reads a printed code by one scheme. */
export function decodeDateCode(code: string, scheme: DateCodeScheme): DateCodeReading {
  const form = formOf(scheme);
  if (!form) return { state: 'incomplete' };
  const parts = split(code.trim(), form);
  if (!parts) return { state: 'other_form' };
  const span = spanOf(parts, scheme);
  return span ? { state: 'read', span } : { state: 'no_such_day', says: describeParts(parts) };
}

const token = /YYYY|YY|WW|MM|DD|D|[^YWMD]+/g;

/** Tokens that each scheme can hold beside the year, each of which needs the one before it. */
const ladders = { iso_week: ['WW', 'D'], fiscal_week: ['WW', 'D'], calendar: ['MM', 'DD'] } as const;

/** A format as what it takes to read a code. */
interface Form {
  readonly pattern: RegExp;
  /** The number each group of the pattern holds. */
  readonly names: readonly TokenName[];
}

/** The form of a scheme; undefined where the scheme cannot be applied. A few schemes read every code of a base. */
const formOf = remembered((scheme: DateCodeScheme): Form | undefined => {
  const { format } = scheme;
  if (format === undefined || !isDecodable(format, scheme)) return undefined;
  const tokens: readonly string[] = format.match(token) ?? [];
  const source = tokens.map((part) => (isTokenName(part) ? `(\\d{${part.length}})` : escaped(part))).join('');
  return { pattern: new RegExp(`^${source}$`), names: tokens.filter(isTokenName) };
});

function isDecodable(format: string, { scheme, fiscal_year_starts: starts }: DateCodeScheme): boolean {
  if (scheme === undefined || (scheme === 'fiscal_week' && starts === undefined)) return false;
  const tokens = new Set((format.match(token) ?? []).filter((part) => /^[YWMD]/.test(part)));
  const years = [tokens.delete('YYYY'), tokens.delete('YY')];
  if (!years.includes(true)) return false;
  const [first, second] = ladders[scheme];
  if (tokens.has(second) && !tokens.has(first)) return false;
  tokens.delete(first);
  tokens.delete(second);
  return tokens.size === 0;
}

const partOf = { YYYY: 'year', YY: 'year', WW: 'week', MM: 'month', DD: 'dayOfMonth', D: 'dayOfWeek' } as const;

type TokenName = keyof typeof partOf;

function isTokenName(part: string): part is TokenName {
  return part in partOf;
}

/** The numbers of a code of this form; undefined for a code of another form, or one that gives a number twice and differently. */
function split(code: string, { pattern, names }: Form): Parts | undefined {
  const found = pattern.exec(code);
  if (!found) return undefined;
  const parts: Partial<Record<keyof Parts, number>> = {};
  for (const [position, name] of names.entries()) {
    const digits = Number(found[position + 1]);
    const value = name === 'YY' ? digits + (digits >= firstYear ? 1900 : 2000) : digits;
    if (parts[partOf[name]] !== undefined && parts[partOf[name]] !== value) return undefined;
    parts[partOf[name]] = value;
  }
  return parts as Parts;
}

function escaped(separator: string): string {
  return separator.replace(/[\\^$.|?*+()[\]{}]/g, '\\$&');
}

function spanOf(parts: Parts, { scheme, fiscal_year_starts: starts = '' }: DateCodeScheme): DaySpan | undefined {
  switch (scheme) {
    case 'iso_week':
      return isoSpan(parts);
    case 'fiscal_week':
      return fiscalSpan(parts, starts);
    default:
      return calendarSpan(parts);
  }
}

/** Source: ISO 8601 week dates (from memory): weeks begin on Monday, and week 1 holds the year's first Thursday. */
function isoSpan({ year, week, dayOfWeek }: Parts): DaySpan | undefined {
  if (week === undefined) {
    const first = weekOf(year, 1)?.first;
    const next = weekOf(year + 1, 1)?.first;
    return first === undefined || next === undefined ? undefined : { first, last: next - 1 };
  }
  const span = weekOf(year, week);
  return span && dayOfWeek !== undefined ? dayIn(span, dayOfWeek) : span;
}

/** Source: ISO 8601 calendar dates (from memory). */
function calendarSpan({ year, month, dayOfMonth }: Parts): DaySpan | undefined {
  const parts = [pad(year, 4), ...[month, dayOfMonth].flatMap((part) => (part === undefined ? [] : pad(part, 2)))];
  return parseDaySpan(parts.join('-'));
}

/** Days by which the start of a fiscal week is not known, either way. Source: common practice, no source. */
const fiscalSlack = 7;

/** A fiscal year is named by the year it ends in, and its weeks are counted from its first day. Source: common practice, no source. */
function fiscalSpan({ year, week, dayOfWeek }: Parts, starts: string): DaySpan | undefined {
  const start = fiscalYearStart(year, starts);
  const next = fiscalYearStart(year + 1, starts);
  if (start === undefined || next === undefined) return undefined;
  if (week === undefined) return widened({ first: start, last: next - 1 });
  const first = start + 7 * (week - 1);
  if (week < 1 || first >= next) return undefined;
  const span = { first, last: first + 6 };
  const exact = dayOfWeek === undefined ? span : dayIn(span, dayOfWeek);
  return exact && widened(exact);
}

function fiscalYearStart(year: number, starts: string): number | undefined {
  const [month = 0, dayOfMonth = 0] = starts.split('-').map(Number);
  return dayOf(starts === '01-01' ? year : year - 1, month, dayOfMonth);
}

function weekOf(year: number, week: number): DaySpan | undefined {
  return parseDaySpan(`${pad(year, 4)}-W${pad(week, 2)}`);
}

/** The day of a week, 1 to 7. */
function dayIn(week: DaySpan, dayOfWeek: number): DaySpan | undefined {
  if (dayOfWeek < 1 || dayOfWeek > 7) return undefined;
  const day = week.first + dayOfWeek - 1;
  return { first: day, last: day };
}

function widened({ first, last }: DaySpan): DaySpan {
  return { first: first - fiscalSlack, last: last + fiscalSlack };
}

function describeParts({ year, week, month, dayOfMonth, dayOfWeek }: Parts): string {
  const named = [
    [dayOfWeek, 'day'],
    [dayOfMonth, 'day'],
    [week, 'week'],
    [month, 'month'],
  ] as const;
  const words = named.flatMap(([value, name]) => (value === undefined ? [] : `${name} ${value}`));
  return [...words, String(year)].join(' of ');
}

function pad(value: number, width: number): string {
  return String(value).padStart(width, '0');
}
