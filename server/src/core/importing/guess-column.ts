import type { KeyRow } from '../schema/key-rows.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { foldText } from '../text/fold.ts';
import { nearNames } from '../text/near-names.ts';
import { blankWords, cellWords } from './heading-words.ts';
import { readDate } from './read-date.ts';
import { readNumber } from './read-number.ts';
import { slugOf } from './slug.ts';

/** Forms of dates that are tried, those of a whole day first. */
const dayForms = [
  'YYYY-MM-DD',
  'DD.MM.YYYY',
  'DD/MM/YYYY',
  'MM/DD/YYYY',
  'DD-MM-YYYY',
  'YYYY/MM/DD',
  'DD.MM.YY',
  'DD/MM/YY',
  'MM/DD/YY',
  'YYYYMMDD',
];
const spanForms = ['YYYY-WWW', 'YYYY-MM', 'MM/YYYY', 'MM.YYYY', 'WW/YYYY'];

/** The different cells of a column that say something, as they stand there. */
export function cellsThatSay(cells: readonly string[]): readonly string[] {
  const said = cells.map((cell) => cell.trim()).filter((cell) => cell !== '' && !blankWords.includes(foldText(cell)));
  return [...new Set(said)];
}

/** Texts of cells that say no more than a blank one. */
export function blankTexts(cells: readonly string[]): readonly string[] {
  const found = cells.map((cell) => foldText(cell)).filter((cell) => blankWords.includes(cell));
  return [...new Set(found)].sort(byCodeUnits);
}

/** Forms in which the dates of a column are written, as few as read them all. Two that read one date differently are both there. */
export function guessDates(
  cells: readonly string[],
  { format }: Pick<KeyRow, 'format'>,
): { readonly forms: readonly string[]; readonly unread: readonly string[]; readonly areUnsure: boolean } {
  const forms = format === 'date' ? dayForms : [...dayForms, ...spanForms];
  const reads = (form: string, cell: string): boolean => 'value' in readDate(cell, [form]);
  let left = cells.filter((cell) => forms.some((form) => reads(form, cell)));
  const unread = cells.filter((cell) => !left.includes(cell));
  const taken: string[] = [];
  while (left.length > 0) {
    const counts = forms.map((form) => left.filter((cell) => reads(form, cell)).length);
    const most = Math.max(...counts);
    const best = forms.filter((_, position) => counts[position] === most);
    const [first] = best;
    if (first === undefined) break;
    const same = left.filter((cell) => reads(first, cell));
    // Where another form reads all of these too, nobody can tell which is meant.
    taken.push(...best.filter((form) => same.every((cell) => reads(form, cell))));
    left = left.filter((cell) => !taken.some((form) => reads(form, cell)));
  }
  return {
    forms: taken,
    unread,
    areUnsure: cells.some((cell) => 'reason' in readDate(cell, taken) && !unread.includes(cell)),
  };
}

/** The sign before fractions, as the numbers of all columns together show it; undefined where none does. */
export function guessDecimal(cells: readonly string[]): 'point' | 'comma' | undefined {
  const shows = (sign: 'point' | 'comma', other: 'point' | 'comma'): number =>
    cells.filter((cell) => {
      const [own, crossed] = [sign, other].map((decimal) => readNumber(figuresOf(cell), { decimal }));
      return own && crossed && 'value' in own && !('value' in crossed);
    }).length;
  const [points, commas] = [shows('point', 'comma'), shows('comma', 'point')];
  if (points === commas) return undefined;
  return points > commas ? 'point' : 'comma';
}

/** A cell up to its last figure or sign. */
function figuresOf(cell: string): string {
  return /^.*[\d.,+-]/s.exec(cell)?.[0] ?? '';
}

/** What a text of a cell may stand for. */
export interface GuessedValue {
  readonly text: string;
  /** Undefined where nobody knows. */
  readonly value: string | undefined;
  readonly isSure: boolean;
}

/** Translations of the texts in a column that are no values of its key themselves. */
export function guessValues(row: KeyRow, cells: readonly string[]): readonly GuessedValue[] {
  const choices = row.type === 'boolean' ? ['true', 'false'] : (row.values ?? []).map(({ value }) => value);
  const words = cellWords[row.type === 'boolean' ? 'boolean' : row.name] ?? {};
  const seen = new Set<string>();
  return cells.flatMap((text) => {
    const folded = foldText(text);
    if (choices.length === 0 || seen.has(folded) || choices.some((choice) => foldText(choice) === folded)) return [];
    seen.add(folded);
    const spelt = slugOf(text);
    const known = Object.entries(words).flatMap(([value, all]) => (spelt !== '' && all.includes(spelt) ? value : []));
    const [only] = known;
    if (only !== undefined) return { text, value: only, isSure: known.length === 1 };
    const [near, another] = nearNames(text, choices);
    return { text, value: another === undefined ? near : undefined, isSure: false };
  });
}
