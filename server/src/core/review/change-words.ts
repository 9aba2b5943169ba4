import { describeFormula } from '../conditions/describe.ts';
import { toFormula } from '../conditions/formula.ts';
import { lineScalar } from '../edits/write-scalar.ts';
import type { AnyRecord } from '../model/record.ts';
import { findKeyRow, keyRowsIn } from '../schema/key-rows.ts';
import type { Path } from '../syntax/tape.ts';
import { valueAt } from '../syntax/value-at.ts';
import { cutText } from '../text/cut-text.ts';
import { inSentence } from '../text/in-sentence.ts';
import type { ChangedRecord, ValueChange } from './review.ts';

/** UTF-16 code units of a value that are shown. */
const longestValue = 160;

/** What differs in a record, a line for each value, with the titles of its keys. A condition is one value. */
export function changesInWords({ record, before, changes }: ChangedRecord): readonly string[] {
  const isCondition = ({ path }: ValueChange): boolean => record.kind === 'rule' && path[0] === 'when';
  const lines = changes.filter((change) => !isCondition(change)).map((change) => changeWords(change, record, before));
  return changes.some(isCondition) ? [...lines, conditionWords(before, record)] : lines;
}

/** A text that somebody gave for a reason, as a quote that is not long. */
export function quotedReason(reason: string): string {
  return `\`${cutText(reason, longestValue)}\``;
}

/** A value as it is typed on one line, cut where it is long. */
export function valueText(value: unknown): string {
  return cutText(flowText(value), longestValue);
}

function changeWords(
  { path, before: then, after: now, unusable }: ValueChange,
  record: AnyRecord,
  before: AnyRecord,
): string {
  const titles = titlesOf(path, record, now === undefined ? before : record);
  if (unusable === 'after') return `${titles}: what stands there now cannot be used`;
  if (now === undefined)
    return `${titles}: ${then === undefined ? 'what could not be used is gone' : `\`${valueText(then)}\` taken out`}`;
  return then === undefined
    ? `${titles}: \`${valueText(now)}\` added`
    : `${titles}: \`${valueText(then)}\` → \`${valueText(now)}\``;
}

function conditionWords(before: AnyRecord, after: AnyRecord): string {
  const [then, now] = [before, after].map(({ data }) =>
    'when' in data && data.when !== undefined
      ? `\`${cutText(describeFormula(toFormula(data.when, [])), longestValue)}\``
      : 'none',
  );
  return `${findKeyRow('rule', ['when'])?.title ?? 'when'}: ${then} → ${now}`;
}

/** The titles of the keys a path leads through, and the names of entries: "Revisions, `B`, controller". */
function titlesOf(path: Path, { kind }: AnyRecord, record: AnyRecord): string {
  const parts = path.flatMap((step, depth) => {
    const inner = path.slice(0, depth + 1);
    if (typeof step === 'number') {
      // What the last step leads to is told by its value.
      const name = depth === path.length - 1 ? undefined : entryName(kind, inner, valueAt(record.data, inner));
      return name === undefined ? [] : [`\`${name}\``];
    }
    const title = findKeyRow(kind, inner)?.title ?? `\`${step}\``;
    return [depth === 0 ? title : inSentence(title)];
  });
  return parts.join(', ');
}

/** What an entry of a list is known by: the first key that each has to have. */
function entryName(kind: string, path: Path, entry: unknown): string | undefined {
  const key = keyRowsIn(kind, path).find(({ required }) => required)?.name;
  const name = key === undefined ? undefined : valueAt(entry, [key]);
  return name === undefined ? undefined : valueText(name);
}

function flowText(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(flowText).join(', ')}]`;
  if (typeof value === 'object' && value !== null) {
    return `{${Object.entries(value)
      .map(([key, inner]) => `${key}: ${flowText(inner)}`)
      .join(', ')}}`;
  }
  return typeof value === 'string' ? plainText(value) : String(value);
}

/** Without the quotes that only tell a text from a number: nobody takes `"0007"` for one here. */
function plainText(text: string): string {
  return /[,[\]{}\n\r\t]|: | #/.test(text) ? lineScalar(text, 'plain', true) : text;
}
