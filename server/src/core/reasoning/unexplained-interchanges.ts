import { evaluateAtom } from '../conditions/evaluate.ts';
import { romTravels } from '../conditions/rom-travels.ts';
import { type Derivation, derive } from '../index/derivation.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { findSorted, replaceSorted } from '../index/sorted.ts';
import { addTo } from '../terms/grouped.ts';
import { remembered } from '../terms/remembered.ts';
import { isAtLeast } from '../terms/stages.ts';
import { allEvidence, changedEvidence, type Evidence, outcomeIdOf } from '../verdicts/evidence.ts';
import { type Rule, rulesOf } from './rule.ts';
import { standing } from './rule-results.ts';

/** A failure that a claimed interchange of revisions says should have worked, and that no law foretold. */
export interface UnexplainedInterchange {
  readonly evidence: Evidence;
  /** Laws that may have foretold it, had more been recorded. */
  readonly undecided: readonly Rule[];
}

/** The failures at `works_at` that speak against a claimed interchange, by outcome id. */
export function unexplainedInterchanges(snapshot: Snapshot): readonly UnexplainedInterchange[] {
  return derive(unexplained, snapshot);
}

const unexplained: Derivation<readonly UnexplainedInterchange[]> = {
  name: 'unexplained interchanges',
  compute: unexplainedAmong,
  update: (value, changes) => {
    const { before, after } = changes;
    if (rulesOf(before) !== rulesOf(after)) return unexplainedAmong(after);
    return replaceSorted(
      value,
      changedEvidence(changes),
      ({ evidence }) => outcomeIdOf(evidence),
      (id) => {
        const one = findSorted(derive(failedInterchanges, after), id, outcomeIdOf);
        return one && unexplainedBy(lawsByFamily(after), one);
      },
    );
  },
};

function unexplainedAmong(snapshot: Snapshot): readonly UnexplainedInterchange[] {
  const laws = lawsByFamily(snapshot);
  return derive(failedInterchanges, snapshot).flatMap((evidence) => unexplainedBy(laws, evidence) ?? []);
}

/** The failure where no law foretold it. To do that it has to have failed at the law's own stage. */
function unexplainedBy(laws: LawsByFamily, evidence: Evidence): UnexplainedInterchange | undefined {
  const { swap, verdicts } = evidence;
  const undecided: Rule[] = [];
  for (const family of new Set([undefined, swap?.patient.drive.data.family])) {
    for (const rule of laws.get(family) ?? []) {
      const relation = standing(rule, evidence);
      const { result } = verdicts[rule.stage];
      if (relation === 'support' && result === 'fails') return undefined;
      if (relation === 'undecided' && result !== 'works') undecided.push(rule);
    }
  }
  return { evidence, undecided };
}

/** Failures at `works_at` of what is claimed to be an interchange, by outcome id. */
const failedInterchanges: Derivation<readonly Evidence[]> = {
  name: 'failed interchanges',
  compute: (snapshot) => allEvidence(snapshot).filter((evidence) => isFailedInterchange(evidence, snapshot)),
  update: (value, changes) => {
    const { after } = changes;
    return replaceSorted(value, changedEvidence(changes), outcomeIdOf, (id) => {
      const one = findSorted(allEvidence(after), id, outcomeIdOf);
      return one && isFailedInterchange(one, after) ? one : undefined;
    });
  },
};

function isFailedInterchange(evidence: Evidence, { config }: Snapshot): boolean {
  return evidence.verdicts[config.worksAt].result === 'fails' && isClaimedInterchange(evidence);
}

/** Whether the donor's revision is claimed to do for the patient's, another one, and everything the claim asks for was done. */
export function isClaimedInterchange({ swap }: Evidence): boolean {
  return (
    swap !== undefined &&
    evaluateAtom({ test: 'drop_in' }, swap) === true &&
    evaluateAtom({ test: 'same', key: 'rev' }, swap) === false &&
    romTravels(swap) === true
  );
}

/** Laws by the families they are about, each list by id; under undefined those about any. */
type LawsByFamily = ReadonlyMap<string | undefined, readonly Rule[]>;

/** The laws of `works_at` or lower that may foretell a failure. */
const lawsByFamily = remembered((snapshot: Snapshot): LawsByFamily => {
  const laws = new Map<string | undefined, Rule[]>();
  for (const rule of rulesOf(snapshot)) {
    const { claim, atLeast, stage, record } = rule;
    if (claim === 'enough' || atLeast !== undefined || !isAtLeast(snapshot.config.worksAt, stage)) continue;
    const families = record.data.applies_to?.families ?? [];
    for (const family of families.length === 0 ? [undefined] : new Set(families)) addTo(laws, family, rule);
  }
  return laws;
});
