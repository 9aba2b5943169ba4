import { evaluateAtom } from '../conditions/evaluate.ts';
import { romTravels } from '../conditions/rom-travels.ts';
import { type Derivation, derive } from '../index/derivation.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { findSorted, replaceSorted } from '../index/sorted.ts';
import { remembered } from '../terms/remembered.ts';
import { isAtLeast } from '../terms/stages.ts';
import { allEvidence, changedEvidence, type Evidence, outcomeIdOf } from '../verdicts/evidence.ts';
import type { Rule } from './rule.ts';
import { type RuleResult, ruleResults } from './rule-results.ts';

/** A failure that a claimed interchange of revisions says should have worked, and that no law foretold. */
export interface UnexplainedInterchange {
  readonly evidence: Evidence;
  /** Laws that may have foretold it, had more been recorded. */
  readonly undecided: readonly Rule[];
}

/** The failures at `works_at` that speak against a claimed interchange, by outcome id. */
export const unexplainedInterchanges = remembered((snapshot: Snapshot): readonly UnexplainedInterchange[] => {
  const laws = lawsByFamily(snapshot);
  return derive(failedInterchanges, snapshot).flatMap((evidence) => {
    const { outcome, swap } = evidence;
    const ofFamily = [...(laws.get(undefined) ?? []), ...(laws.get(swap?.patient.drive.data.family) ?? [])];
    if (ofFamily.some((law) => foretellingsOf(law).sure.has(outcome.id))) return [];
    const open = ofFamily.filter((law) => foretellingsOf(law).open.has(outcome.id));
    return [{ evidence, undecided: open.map(({ rule }) => rule) }];
  });
});

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

/** The laws of `works_at` or lower that may foretell a failure, by the families they are about; under undefined those about any. */
function lawsByFamily(snapshot: Snapshot): ReadonlyMap<string | undefined, readonly RuleResult[]> {
  const laws = new Map<string | undefined, RuleResult[]>();
  for (const result of ruleResults(snapshot)) {
    const { claim, atLeast, stage, record } = result.rule;
    if (claim === 'enough' || atLeast !== undefined || !isAtLeast(snapshot.config.worksAt, stage)) continue;
    const families = record.data.applies_to?.families ?? [];
    for (const family of families.length === 0 ? [undefined] : new Set(families)) {
      const known = laws.get(family);
      if (known) known.push(result);
      else laws.set(family, [result]);
    }
  }
  return laws;
}

/** The failures a law foretold, and those it may have foretold had more been recorded. It has to have failed at the law's own stage. */
const foretellingsOf = remembered(({ rule, support, undecided }: RuleResult) => {
  const failed = support.filter(({ verdicts }) => verdicts[rule.stage].result === 'fails');
  const open = undecided.filter(({ verdicts }) => verdicts[rule.stage].result !== 'works');
  return { sure: new Set(failed.map(outcomeIdOf)), open: new Set(open.map(outcomeIdOf)) };
});
