/**
 * Names of spans of days in the forms dates of manufacture are recorded in.
 * Laws (test/property/span-name.property.test.ts):
 * - the name of a day, week, month or year is read as that span
 * - the weeks in the name of any other span are the fewest that hold it
 */
import { type Day, type DaySpan, dayOf, formatDate, parseDaySpan } from './calendar.ts';

/** A span as `2012-08-03`, `2012-W31`, `2012-08` or `2012`; as the weeks it lies in, such as `2012-W29 to W31`, where it is none of these. */
export function spanName(span: DaySpan): string {
  const { first, last } = span;
  const date = formatDate(first);
  if (first === last) return date;
  const [from, to] = [weekName(first), weekName(last)];
  const names = [from, date.slice(0, 7), date.slice(0, 4)];
  const exact = names.find((name) => isSameSpan(parseDaySpan(name), span));
  if (exact !== undefined) return exact;
  if (from === to) return from;
  return from.slice(0, 4) === to.slice(0, 4) ? `${from} to ${to.slice(5)}` : `${from} to ${to}`;
}

function isSameSpan(a: DaySpan | undefined, b: DaySpan): boolean {
  return a?.first === b.first && a.last === b.last;
}

/** The week a day lies in. Its year is that of its Thursday. Source: ISO 8601 week dates (from memory). */
function weekName(day: Day): string {
  // 1970-01-01 was a Thursday, so that whole weeks from there are whole weeks from a Thursday.
  const thursday = day - ((((day + 3) % 7) + 7) % 7) + 3;
  const year = formatDate(thursday).slice(0, 4);
  const week = Math.floor((thursday - (dayOf(Number(year), 1, 1) ?? thursday)) / 7) + 1;
  return `${year}-W${String(week).padStart(2, '0')}`;
}
