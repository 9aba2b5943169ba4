/**
 * Dates as shops write them.
 * Laws (test/property/importing.property.test.ts):
 * - a date written in a form is read back from it
 * - a date that two forms read differently is never read
 */

import { parseDaySpan } from '../terms/calendar.ts';
import { quotedList } from '../text/quoted-list.ts';
import type { Reading } from './reading.ts';

/** The form that needs no saying. Source: ISO 8601, calendar dates. */
const usualForms: readonly string[] = ['YYYY-MM-DD'];

/** A time of day behind a date, as spreadsheets write it, which no record keeps. */
const timeOfDay = /(?<=\d)[T ]\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?Z?$/;

/**
 * A date as records write it: `2012-08-03`, `2012-08`, `2012-W31` or `2012`, by what its form tells of. Where forms read it differently,
 * nothing is chosen.
 */
export function readDate(text: string, forms: readonly string[] = usualForms): Reading<string> {
  const bare = text.replace(timeOfDay, '');
  const found = new Map<string, string>();
  let isOfForm = false;
  for (const form of forms) {
    const named = readByForm(bare, form);
    if (named === undefined) continue;
    isOfForm = true;
    if (parseDaySpan(named) !== undefined && !found.has(named)) found.set(named, form);
  }
  const [first, ...others] = found.keys();
  if (first !== undefined && others.length === 0) return { value: first };
  if (first !== undefined) {
    const readings = Array.from(found, ([named, form]) => `\`${named}\` (\`${form}\`)`);
    return {
      reason: `This can be read as ${readings.join(' and as ')}.`,
      help: 'Write it in the cell so that only one is possible, or name the one form of this column under `dates`.',
    };
  }
  if (isOfForm) return { reason: 'There is no such day.' };
  return {
    reason: `This is no date of the form ${quotedList(forms, ' or ')}.`,
    help: 'Mend the cell, or add its form under `dates`.',
  };
}

/** Whether a form tells of a year, with a day, a month or a week of it, or none of these. */
export function isDateForm(form: string): boolean {
  const parts = partsOf(form)
    .filter(isField)
    .map((part) => part.slice(0, 1))
    .sort()
    .join('');
  return ['Y', 'MY', 'WY', 'DMY'].includes(parts);
}

/** The parts of a form: fields and what stands between them. `W` before `WW` is a letter of its own, as in `2012-W31`. */
function partsOf(form: string): readonly string[] {
  return form.match(/YYYY|YY|MM|DD|W(?=WW)|WW|./g) ?? [];
}

function isField(part: string): boolean {
  return part.length > 1;
}

/** The patterns of forms, with the fields in their order. */
const patterns = new Map<string, { readonly pattern: RegExp; readonly fields: readonly string[] }>();

function patternOf(form: string): { readonly pattern: RegExp; readonly fields: readonly string[] } {
  const known = patterns.get(form);
  if (known) return known;
  const parts = partsOf(form);
  const sources = parts.map((part, at) => {
    if (!isField(part)) return part.replace(/[.]/g, '\\.');
    if (part.startsWith('Y')) return `(\\d{${part.length}})`;
    // Where nothing stands between two fields, only two figures each tell them apart.
    const isApart = [parts[at - 1], parts[at + 1]].every((beside) => beside === undefined || !isField(beside));
    return isApart ? '(\\d{1,2})' : '(\\d{2})';
  });
  const made = { pattern: new RegExp(`^${sources.join('')}$`), fields: parts.filter(isField) };
  patterns.set(form, made);
  return made;
}

/** What a text names by one form; undefined where it is not of that form. */
function readByForm(text: string, form: string): string | undefined {
  const { pattern, fields } = patternOf(form);
  const match = pattern.exec(text);
  if (!match) return undefined;
  const figures = (name: string): string | undefined => {
    const at = fields.indexOf(name);
    return at < 0 ? undefined : match[at + 1];
  };
  const year = figures('YYYY') ?? centuryOf(figures('YY') ?? '');
  const [month, day, week] = ['MM', 'DD', 'WW'].map((name) => figures(name)?.padStart(2, '0'));
  if (week !== undefined) return `${year}-W${week}`;
  return [year, month, day].filter((part) => part !== undefined).join('-');
}

/** A year of two figures in full. Source: POSIX.1-2017, `strptime`, `%y`: 69 to 99 are of the 20th century, 00 to 68 of the 21st. */
function centuryOf(figures: string): string {
  return `${Number(figures) >= 69 ? 19 : 20}${figures}`;
}
