import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, nameOf } from '../model/record.ts';
import { openCases } from '../reasoning/deciding.ts';
import { keysForMissing, type WantedKey } from '../reasoning/wanted-keys.ts';
import { readFromWords } from '../schema/read-from-words.ts';
import { inARow } from '../text/in-a-row.ts';
import { type Evidence, evidenceOf } from '../verdicts/evidence.ts';
import type { Question, Review } from './review.ts';

type Asked = Pick<Review, 'change' | 'records' | 'verdicts'>;

/** What is to be asked of outcomes that came with the change, or say something else since, and prove nothing for want of a control. */
export function controlQuestions({ change: { after }, records, verdicts }: Asked): readonly Question[] {
  return freshOutcomes({ records, verdicts }, after).flatMap((evidence) => {
    const { outcome, swap, verdicts: own } = evidence;
    const { worksAt } = after.config;
    const verdict = own[worksAt];
    if (verdict.result !== 'inconclusive' || !swap) return [];
    if (verdict.missing.some((missing) => keysForMissing(missing, swap) === undefined)) return [];
    const reasons = verdict.missing.map(({ says }) => says).join(', and ');
    return {
      record: nameOf(outcome),
      text: `Outcome \`${outcome.id}\` reached \`${outcome.data.reached}\` and is inconclusive at \`${worksAt}\`, because ${reasons}: can that still be made up for?`,
    };
  });
}

/** What is to be asked of records without a key on which it depends what outcomes of the change say of a rule. */
export function keyQuestions({ change: { after }, records, verdicts }: Asked): readonly Question[] {
  const fresh = new Set(freshOutcomes({ records, verdicts }, after).map(({ outcome }) => outcome.id));
  const gaps = new Map<string, Gap>();
  for (const { rule, outcome, keys } of openCases(after, ({ id }) => fresh.has(id))) {
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
  const name = `${of.rev === undefined ? '' : `Revision \`${of.rev}\` of `}${of.rev === undefined ? capital(kind) : kind} \`${id}\``;
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

function capital(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1);
}

/** The evidence of outcomes that the change brought or altered, and of those that say something else because of it. */
function freshOutcomes({ records, verdicts }: Omit<Asked, 'change'>, after: Snapshot): readonly Evidence[] {
  const records_: readonly AnyRecord[] = [...records.added, ...records.changed].map(({ record }) => record);
  const fresh = new Map(
    [...records_, ...verdicts.flatMap(({ after: now }) => now?.outcome ?? [])].flatMap((record) =>
      record.kind === 'outcome' ? [[record.id, record] as const] : [],
    ),
  );
  const all = [...fresh.values()].filter((outcome) => outcome.data.retracted === undefined);
  return all.map((outcome) => evidenceOf(outcome, after));
}
