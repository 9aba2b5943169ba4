import type { Snapshot } from '../index/snapshot.ts';
import { findSorted } from '../index/sorted.ts';
import { type AnyRecord, nameOf } from '../model/record.ts';
import type { Rule } from '../reasoning/rule.ts';
import { standing } from '../reasoning/rule-results.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { inARow } from '../text/in-a-row.ts';
import { allEvidence, type Evidence, outcomeIdOf } from '../verdicts/evidence.ts';
import { changesInWords, quotedReason } from './change-words.ts';
import type { Question, RemovedRecord, Review } from './review.ts';

type Asked = Pick<Review, 'change' | 'records' | 'rules' | 'verdicts'>;

/** An outcome that no longer says what it said, and the rules it stood against. */
interface Lost {
  readonly before: Evidence;
  /** Undefined where it counts no more. */
  readonly after: Evidence | undefined;
  readonly rules: readonly Rule[];
}

/**
 * What is to be asked of outcomes that stood against a rule and no longer do, and of failures that are no longer there. Where the rule has
 * changed and not the outcome, the rule is asked about; where the file of an outcome was left out altogether, the setting.
 */
export function outcomeQuestions(review: Asked, leftOut: ReadonlySet<RemovedRecord>): readonly Question[] {
  return lostOutcomes(review).flatMap((lost) => {
    const { outcome } = lost.before;
    const removed = review.records.removed.find(({ record }) => record === outcome);
    if (removed && leftOut.has(removed)) return [];
    const text = lost.after ? changedText(lost, lost.after, review) : goneText(lost, removed, review);
    return text === undefined ? [] : [{ record: nameOf(outcome), text }];
  });
}

/** By outcome id. */
function lostOutcomes({ change: { before, after }, rules, verdicts }: Asked): readonly Lost[] {
  const lost = new Map<string, Lost>();
  for (const { before: then } of verdicts) {
    // What failed and is gone makes every rate look better.
    if (then && isFailure(then, before) && !evidenceIn(after, then.outcome.id))
      lost.set(then.outcome.id, { before: then, after: undefined, rules: [] });
  }
  for (const { before: result } of rules) {
    for (const then of result?.against ?? []) {
      const { id } = then.outcome;
      const now = evidenceIn(after, id);
      if (!result || (now && standing(result.rule, now) === 'against')) continue;
      lost.set(id, { before: then, after: now, rules: [...(lost.get(id)?.rules ?? []), result.rule] });
    }
  }
  return [...lost.values()].sort((a, b) => byCodeUnits(a.before.outcome.id, b.before.outcome.id));
}

function isFailure({ verdicts }: Evidence, { config }: Snapshot): boolean {
  return verdicts[config.worksAt].result === 'fails';
}

function evidenceIn(snapshot: Snapshot, id: string): Evidence | undefined {
  return findSorted(allEvidence(snapshot), id, outcomeIdOf);
}

function goneText(
  { before: { outcome }, rules }: Lost,
  removed: RemovedRecord | undefined,
  { change: { before, after } }: Asked,
): string | undefined {
  const what =
    rules.length > 0
      ? `counted against ${rulesInWords(rules)}`
      : `failed at \`${before.config.worksAt}\` with every control`;
  if (!removed) {
    const reason = after.find('outcome', outcome.id)?.data.retracted?.because;
    return `Outcome \`${outcome.id}\` ${what} and is now retracted${becauseOf(reason)}: does that hold?`;
  }
  if (removed.how === 'unread')
    return `Outcome \`${outcome.id}\` ${what} and can no longer be read: is its file meant to stay like this?`;
  return removed.how === 'gone'
    ? `Outcome \`${outcome.id}\` ${what} and is removed: what was wrong with it, and would a retraction keep the trace of it?`
    : undefined;
}

/** The reason somebody gave, as the rest of a sentence. */
function becauseOf(reason: string | undefined): string {
  return reason === undefined ? ', with no reason that can be read' : ` because ${quotedReason(reason)}`;
}

function changedText({ before: then, rules }: Lost, now: Evidence, { change: { after }, records }: Asked): string {
  const { outcome } = then;
  const { worksAt } = after.config;
  const own = records.changed.find(({ record }) => record === now.outcome);
  const [was, is] = [then.verdicts[worksAt].result, now.verdicts[worksAt].result];
  const verdict = was === is ? '' : ` (at \`${worksAt}\` it ${verdictWords[was]} and now ${verdictWords[is]})`;
  const cause = own ? changesInWords(own).join('; ') : otherChanges(now, records);
  return `Outcome \`${outcome.id}\` counted against ${rulesInWords(rules)} and no longer does${verdict}${cause === '' ? '' : `; changed: ${cause}`}. Who saw that, and when?`;
}

const verdictWords = { works: 'works', fails: 'fails', inconclusive: 'is inconclusive' } as const;

/** The records of the change that an outcome rests on. */
function otherChanges(now: Evidence, { added, changed }: Review['records']): string {
  const news = new Set([...added, ...changed].map(({ record }) => nameOf(record)));
  const names = recordsUnder(now).map(nameOf);
  return inARow([...new Set(names)].filter((name) => news.has(name)));
}

function recordsUnder({ swap }: Evidence): readonly AnyRecord[] {
  return [swap?.patient, swap?.donor].flatMap((side) =>
    side ? [side.drive, ...(side.family ? [side.family] : []), ...(side.board ? [side.board] : [])] : [],
  );
}

function rulesInWords(rules: readonly Rule[]): string {
  return `${rules.length === 1 ? 'rule' : 'rules'} ${inARow(rules.map(({ record }) => record.id))}`;
}
