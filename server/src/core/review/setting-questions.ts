import { checks } from '../checks/registry.ts';
import { severities } from '../terms/severities.ts';
import { globTest } from '../text/glob.ts';
import { plural } from '../text/plural.ts';
import { valueText } from './change-words.ts';
import type { Question, RemovedRecord, Review, SettingChange } from './review.ts';

type Asked = Pick<Review, 'config' | 'records'>;

/** What is to be asked where a setting lets more through than before, or where a setting moves what everything is judged by. */
export function settingQuestions(review: Asked): readonly Question[] {
  return review.config.flatMap((change) => {
    const text = textFor(change, review);
    return text === undefined ? [] : [{ record: undefined, text }];
  });
}

/** The records that are gone because a pattern now leaves their files out. */
export function leftOutBy({ config, records }: Asked): ReadonlySet<RemovedRecord> {
  const patterns = config.flatMap((change) => (change.path[0] === 'ignore' ? patternsIn(change.after) : []));
  const tests = patterns.map(globTest);
  return new Set(records.removed.filter(({ file }) => tests.some((test) => test(file))));
}

function textFor(change: SettingChange, review: Asked): string | undefined {
  const { path, before, after } = change;
  switch (path[0]) {
    case 'severity':
      return severityText(change);
    case 'works_at':
      return `What counts as working moves from ${quoted(before)} to ${quoted(after)}, by which every control and rate is judged, and each rule without a stage of its own: is that meant?`;
    case 'verified_share':
      return isLower(after, before)
        ? `The share that has to be compared before a read is verified sinks from ${quoted(before)} to ${quoted(after)}: what is the lower share based on?`
        : undefined;
    case 'kept_powered_minutes':
      return isLower(before, after)
        ? `A clicking or beeping drive may now stay powered for ${quoted(after)} instead of ${quoted(before)} minutes: who has decided that?`
        : undefined;
    case 'serials':
      return after === 'full'
        ? 'Serial numbers may now be recorded in full: have the owners of the drives agreed, and who can read this repository?'
        : undefined;
    case 'ignore':
      return ignoreText(change, review);
    default:
      return undefined;
  }
}

function severityText({ path: [, name = ''], before, after, hides }: SettingChange): string | undefined {
  if (!isWeaker(before ?? ownSeverity(String(name)), after ?? ownSeverity(String(name)))) return undefined;
  const check = `\`${name}\``;
  const count = plural(hides.length, 'finding');
  if (after === 'off') {
    return hides.length === 0
      ? `The check ${check} is switched off, though it finds nothing in this base: what is it in the way of?`
      : `The check ${check} is switched off, which hides ${count} of this base: is each of them known and accepted?`;
  }
  const from = quoted(before ?? ownSeverity(String(name)));
  const to = quoted(after ?? ownSeverity(String(name)));
  return `The check ${check} sinks from ${from} to ${to}${hides.length === 0 ? '' : `, which makes less of ${count}`}: why does it matter less now?`;
}

function ignoreText({ after }: SettingChange, { records }: Asked): string | undefined {
  const patterns = patternsIn(after);
  if (patterns.length === 0) return undefined;
  const gone = records.removed.filter(({ file }) => patterns.some((pattern) => globTest(pattern)(file))).length;
  const lost = gone === 0 ? '' : `, and ${plural(gone, 'record')} ${gone === 1 ? 'is' : 'are'} gone with them`;
  return `Files that match ${patterns.map(quoted).join(', ')} no longer belong to the base${lost}: why are they left out?`;
}

/** The patterns of a list, or the one that was added to it. */
function patternsIn(value: unknown): readonly string[] {
  return [value].flat().filter((one) => typeof one === 'string');
}

/** The severity a check has where a base says nothing. */
function ownSeverity(name: string): string {
  return checks.find(({ check }) => check === name)?.severity ?? 'error';
}

function isWeaker(before: unknown, after: unknown): boolean {
  const order: readonly unknown[] = [...severities, 'off'];
  return order.indexOf(after) > order.indexOf(before);
}

function isLower(a: unknown, b: unknown): boolean {
  return typeof a === 'number' && typeof b === 'number' && a < b;
}

function quoted(value: unknown): string {
  return `\`${valueText(value)}\``;
}
