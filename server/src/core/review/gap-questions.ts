import { isEqual } from '../index/is-equal.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { findSorted } from '../index/sorted.ts';
import { isRetracted, nameOf, type OutcomeRecord } from '../model/record.ts';
import { openCases } from '../reasoning/deciding.ts';
import { ruleResults } from '../reasoning/rule-results.ts';
import { keysForMissing, type WantedKey } from '../reasoning/wanted-keys.ts';
import { readFromWords } from '../schema/read-from-words.ts';
import { capitalise } from '../text/capitalise.ts';
import { inARow } from '../text/in-a-row.ts';
import type { Missing } from '../verdicts/eligibility.ts';
import { allEvidence, evidenceOf, outcomeIdOf } from '../verdicts/evidence.ts';
import { freshRecords } from './fresh-records.ts';
import type { Question, Review } from './review.ts';

type Asked = Pick<Review, 'change' | 'records'>;

/**
 * What is to be asked of outcomes that came with the change, or were altered by it, and prove nothing for want of a control, which was not so
 * before. `told` are the names of those that something graver is asked of.
 */
export function controlQuestions(review: Asked, told: ReadonlySet<string>): readonly Question[] {
  const { before, after } = review.change;
  const { worksAt } = after.config;
  return freshOutcomes(review, told).flatMap((outcome) => {
    const { swap, verdicts } = evidenceOf(outcome, after);
    const { result, missing } = verdicts[worksAt];
    if (result !== 'inconclusive' || !swap || isEqual(missing, missingBefore(outcome.id, before))) return [];
    if (missing.some((one) => keysForMissing(one, swap) === undefined)) return [];
    const reasons = missing.map(({ says }) => says).join(', and ');
    return {
      record: nameOf(outcome),
      text: `Outcome \`${outcome.id}\` reached \`${outcome.data.reached}\` and is inconclusive at \`${worksAt}\`, because ${reasons}: can that still be made up for?`,
    };
  });
}

function missingBefore(id: string, before: Snapshot): readonly Missing[] | undefined {
  return findSorted(allEvidence(before), id, outcomeIdOf)?.verdicts[before.config.worksAt].missing;
}

/** What is to be asked of records without a key on which it depends what outcomes of the change say of a rule, and did not before. */
export function keyQuestions(review: Asked, told: ReadonlySet<string>): readonly Question[] {
  const { before, after } = review.change;
  const fresh = new Set(freshOutcomes(review, told).map(({ id }) => id));
  const wereOpen = new Set(
    ruleResults(before).flatMap(({ rule, undecided }) =>
      undecided.map(outcomeIdOf).flatMap((id) => (fresh.has(id) ? `${rule.record.id} ${id}` : [])),
    ),
  );
  const gaps = new Map<string, Gap>();
  for (const { rule, outcome, keys } of openCases(after, ({ id }) => fresh.has(id))) {
    if (wereOpen.has(`${rule.record.id} ${outcome.id}`)) continue;
    // What an outcome lacks itself is told with its controls.
    for (const key of keys.filter((one) => !one.record.startsWith('outcome/') || one.key === 'rom')) {
      const name = JSON.stringify([key.record, key.rev]);
      const gap = gaps.get(name) ?? { of: key, keys: new Map(), outcomes: new Set(), rules: new Set() };
      gap.keys.set(key.key, key);
      gap.outcomes.add(outcome.id);
      gap.rules.add(rule.record.id);
      gaps.set(name, gap);
    }
  }
  return [...gaps.values()].map(toQuestion);
}

/** Keys that one record lacks, with the outcomes and rules that wait for them. */
interface Gap {
  readonly of: WantedKey;
  readonly keys: Map<string, WantedKey>;
  readonly outcomes: Set<string>;
  readonly rules: Set<string>;
}

function toQuestion({ of, keys, outcomes, rules }: Gap): Question {
  const [kind = '', id = ''] = of.record.split('/');
  const name = `${of.rev === undefined ? '' : `Revision \`${of.rev}\` of `}${of.rev === undefined ? capitalise(kind) : kind} \`${id}\``;
  const places = new Set([...keys.values()].flatMap(({ row }) => (row && readFromWords[row.readFrom]) ?? []));
  const where = places.size === 0 ? 'be looked up' : `be read from ${[...places].join(' or ')}`;
  return {
    record: of.record,
    text: `${name} does not record ${listed(keys.keys())}, on which it depends what ${count('outcome', outcomes)} says of ${count('rule', rules)}: can it ${where}?`,
  };
}

/** Names of one kind, a few of them spelt out. */
function count(noun: string, ids: ReadonlySet<string>): string {
  const shown = [...ids].slice(0, mostNamed);
  const left = ids.size - shown.length;
  return `${noun}${ids.size === 1 ? '' : 's'} ${inARow(shown)}${left === 0 ? '' : ` and ${left} more`}`;
}

/** Outcomes or rules that a question names. */
const mostNamed = 3;

function listed(names: Iterable<string>): string {
  return inARow([...names]);
}

/** The outcomes that the change brought or altered, and that count. */
function freshOutcomes({ records }: Asked, told: ReadonlySet<string>): readonly OutcomeRecord[] {
  return freshRecords(records).flatMap((record) =>
    record.kind !== 'outcome' || isRetracted(record) || told.has(nameOf(record)) ? [] : [record],
  );
}
