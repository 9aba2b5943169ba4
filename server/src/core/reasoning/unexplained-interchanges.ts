import { evaluateAtom } from '../conditions/evaluate.ts';
import { romTravels } from '../conditions/rom-travels.ts';
import { anew, type Derivation, derive } from '../index/derivation.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { findSorted, replaceSorted } from '../index/sorted.ts';
import { addTo } from '../terms/grouped.ts';
import { remembered } from '../terms/remembered.ts';
import { isAtLeast } from '../terms/stages.ts';
import { allEvidence, changedEvidence, type Evidence, evidenceTable, outcomeIdOf } from '../verdicts/evidence.ts';
import { type Rule, rules, rulesOf } from './rule.ts';
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

/** Outcomes between two yields. */
const outcomesPerStep = 50;

/** Failures at `works_at` of what is claimed to be an interchange, by outcome id. */
const failedInterchanges: Derivation<readonly Evidence[]> = {
  name: 'failed interchanges',
  restsOn: [evidenceTable],
  *compute(snapshot) {
    const failed: Evidence[] = [];
    for (const [position, evidence] of allEvidence(snapshot).entries()) {
      if (isFailedInterchange(evidence, snapshot)) failed.push(evidence);
      if (position % outcomesPerStep === 0) yield;
    }
    return failed;
  },
  update(value, changes) {
    const { after } = changes;
    return replaceSorted(value, changedEvidence(changes), outcomeIdOf, (id) => {
      const one = findSorted(allEvidence(after), id, outcomeIdOf);
      return one && isFailedInterchange(one, after) ? one : undefined;
    });
  },
};

/** The failures that speak against a claimed interchange. */
export const unexplained: Derivation<readonly UnexplainedInterchange[]> = {
  name: 'unexplained interchanges',
  restsOn: [rules, failedInterchanges],
  *compute(snapshot) {
    const laws = lawsByFamily(snapshot);
    const found: UnexplainedInterchange[] = [];
    for (const [position, evidence] of derive(failedInterchanges, snapshot).entries()) {
      const one = unexplainedBy(laws, evidence);
      if (one) found.push(one);
      if (position % outcomesPerStep === 0) yield;
    }
    return found;
  },
  update(value, changes) {
    const { before, after } = changes;
    if (rulesOf(before) !== rulesOf(after)) return anew;
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
