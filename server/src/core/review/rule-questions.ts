import { isEqual } from '../index/is-equal.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { findSorted } from '../index/sorted.ts';
import { isRetracted, nameOf, type RuleRecord } from '../model/record.ts';
import { type Rule, rulesOf, severityOf, toRule } from '../reasoning/rule.ts';
import { isLawImplied } from '../reasoning/rule-relations.ts';
import { cutText } from '../text/cut-text.ts';
import { plural } from '../text/plural.ts';
import { changesInWords } from './change-words.ts';
import type { ChangedRecord, Question, RemovedRecord, Review, RuleChange } from './review.ts';

type Asked = Pick<Review, 'change' | 'records' | 'rules'>;

/** UTF-16 code units of a reason that are quoted. */
const longestReason = 200;

/** What is to be asked of each exception that was added. */
export function exceptionQuestions({ change: { before }, records }: Asked): readonly Question[] {
  return [...records.added, ...records.changed].flatMap(({ record }) => {
    if (record.kind !== 'rule') return [];
    const known = new Set(before.find('rule', record.id)?.data.exceptions?.map(({ outcome }) => outcome));
    const added = (record.data.exceptions ?? []).filter(({ outcome }) => outcome !== undefined && !known.has(outcome));
    return added.map(({ outcome, because }) => {
      const reason = because === undefined ? 'gives no reason' : `says \`${cutText(because, longestReason)}\``;
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
  return [
    ...gone.flatMap((one) => goneText(one, review.rules) ?? []).map(toQuestion),
    ...changed.flatMap((one) => (one.record.kind === 'rule' ? (changedText(one, review) ?? []) : [])).map(toQuestion),
  ];
}

/** `id` of a rule, and what is asked of it. */
type Asking = readonly [id: string, text: string];

function toQuestion([id, text]: Asking): Question {
  return { record: nameOf({ kind: 'rule', id }), text };
}

function goneText({ record: { id }, how }: RemovedRecord, rules: readonly RuleChange[]): Asking[] | undefined {
  if (typeof how === 'object') return undefined;
  const counts = countsBefore(id, rules);
  const text =
    how === 'unread'
      ? `Rule \`${id}\` can no longer be read, so nothing is held against it${counts}: is its file meant to stay like this?`
      : `Rule \`${id}\` is removed${counts}: what has shown it to be wrong, and would a retraction keep the trace of it?`;
  return [[id, text]];
}

function countsBefore(id: string, rules: readonly RuleChange[]): string {
  const result = rules.find((one) => one.id === id)?.before;
  if (!result || result.support.length + result.against.length === 0) return '';
  return `, with ${plural(result.support.length, 'outcome')} for it and ${result.against.length} against`;
}

function changedText(changed: ChangedRecord, { change, rules }: Asked): Asking[] | undefined {
  const record = changed.record as RuleRecord;
  const before = toRule(changed.before as RuleRecord, change.before.config.worksAt);
  const after = findSorted(rulesOf(change.after), record.id, ({ record: { id } }) => id);
  if (!before) return undefined;
  const { id } = record;
  if (!after) {
    if (!isRetracted(record))
      return [[id, `Rule \`${id}\` can no longer be applied, as part of it cannot be read: is that meant?`]];
    const { because } = record.data.retracted ?? {};
    const reason =
      because === undefined ? 'with no reason that can be read' : `because \`${cutText(because, longestReason)}\``;
    return [[id, `Rule \`${id}\` is retracted${countsBefore(id, rules)}, ${reason}: does that hold?`]];
  }
  if (!isWeaker(before, after, change.after)) return undefined;
  const words = changesInWords({ ...changed, changes: changed.changes.filter(({ path }) => telling.has(path[0])) });
  return [
    [
      id,
      `Rule \`${id}\` demands less than before, or something else (${words.join('; ')}): which swaps have shown that?`,
    ],
  ];
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
