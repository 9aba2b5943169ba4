import { isEqual } from '../index/is-equal.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { isRetracted, nameOf, type RuleRecord } from '../model/record.ts';
import { type Rule, severityOf, toRule } from '../reasoning/rule.ts';
import { isLawImplied } from '../reasoning/rule-relations.ts';
import { plural } from '../text/plural.ts';
import { changesInWords, quotedReason } from './change-words.ts';
import { freshRecords } from './fresh-records.ts';
import type { ChangedRecord, PlacedChange, Question, RemovedRecord, Review, RuleChange } from './review.ts';

type Asked = Pick<Review, 'change' | 'records' | 'rules'>;

/** What is to be asked of each exception that was added. */
export function exceptionQuestions({ change: { before }, records }: Asked): readonly Question[] {
  return freshRecords(records).flatMap((record) => {
    if (record.kind !== 'rule') return [];
    const known = new Set(before.find('rule', record.id)?.data.exceptions?.map(({ outcome }) => outcome));
    const added = (record.data.exceptions ?? []).filter(({ outcome }) => outcome !== undefined && !known.has(outcome));
    return added.map(({ outcome, because }) => {
      const reason = because === undefined ? 'gives no reason' : `says ${quotedReason(because)}`;
      return {
        record: nameOf(record),
        text: `Rule \`${record.id}\` now excepts outcome \`${outcome}\` and ${reason}: does that set the outcome aside, or is the rule wrong?`,
      };
    });
  });
}

/** What is to be asked of each rule that lets more through than before, or is no longer asked. */
export function weakenedQuestions(review: Asked, leftOut: ReadonlySet<RemovedRecord>): readonly Question[] {
  const { changed, removed } = review.records;
  const gone = removed.filter((one) => one.record.kind === 'rule' && !leftOut.has(one));
  const ask = ({ record }: PlacedChange, text: string | undefined): readonly Question[] =>
    text === undefined ? [] : [{ record: nameOf(record), text }];
  return [
    ...gone.flatMap((one) => ask(one, goneText(one, review.rules))),
    ...changed.flatMap((one) => (one.record.kind === 'rule' ? ask(one, changedText(one, one.record, review)) : [])),
  ];
}

function goneText({ record: { id }, how }: RemovedRecord, rules: readonly RuleChange[]): string | undefined {
  if (typeof how === 'object') return undefined;
  const counts = countsBefore(id, rules);
  return how === 'unread'
    ? `Rule \`${id}\` can no longer be read, so nothing is held against it${counts}: is its file meant to stay like this?`
    : `Rule \`${id}\` is removed${counts}: what has shown it to be wrong, and would a retraction keep the trace of it?`;
}

function countsBefore(id: string, rules: readonly RuleChange[]): string {
  const result = rules.find((one) => one.id === id)?.before;
  if (!result || result.support.length + result.against.length === 0) return '';
  return `, with ${plural(result.support.length, 'outcome')} for it and ${result.against.length} against`;
}

function changedText(changed: ChangedRecord, record: RuleRecord, { change, rules }: Asked): string | undefined {
  const before = toRule(changed.before as RuleRecord, change.before.config.worksAt);
  if (!before) return undefined;
  const { id } = record;
  const { basis, retracted } = record.data;
  const after = toRule(record, change.after.config.worksAt);
  if (!after) {
    if (!isRetracted(record))
      return `Rule \`${id}\` can no longer be applied, as part of it cannot be read: is that meant?`;
    const because = retracted?.because;
    const reason = because === undefined ? 'with no reason that can be read' : `because ${quotedReason(because)}`;
    return `Rule \`${id}\` is retracted${countsBefore(id, rules)}, ${reason}: does that hold?`;
  }
  if (!isWeaker(before, after, change.after)) return undefined;
  const told = changed.changes.filter(
    ({ path: [key] }) => telling.has(key) && !(key === 'basis' && basis === 'hearsay'),
  );
  const words = changesInWords({ ...changed, changes: told });
  return `Rule \`${id}\` demands less than before, or something else (${words.join('; ')}): which swaps have shown that?`;
}

/** Keys of a rule that say how much it demands and how firmly. Exceptions are asked about one by one. */
const telling: ReadonlySet<string | number | undefined> = new Set([
  'applies_to',
  'claim',
  'when',
  'stage',
  'at_least',
  'basis',
]);

/** Whether a swap might stand against the rule as it was and not as it is now, or its word counts for less. */
function isWeaker(before: Rule, after: Rule, snapshot: Snapshot): boolean {
  // That a rule rests on hearsay now is asked by itself.
  const isLessFirm = severityOf([before]) === 'error' && severityOf([after]) !== 'error';
  if (isLessFirm && after.record.data.basis !== 'hearsay') return true;
  if ((after.atLeast ?? 1.1) < (before.atLeast ?? 1.1)) return true;
  return !saysSame(before, after) && !isLawImplied(before, after, snapshot);
}

function saysSame(a: Rule, b: Rule): boolean {
  const said = ({ record: { data }, stage }: Rule): unknown => [data.claim, data.when, data.applies_to, stage];
  return isEqual(said(a), said(b));
}
