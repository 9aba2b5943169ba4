import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { shareName } from '../../server/src/core/reasoning/joint-background.ts';
import { componentsIn } from '../../server/src/core/reasoning/joint-groups.ts';
import { lawsOf } from '../../server/src/core/reasoning/joint-laws.ts';
import { standing } from '../../server/src/core/reasoning/rule-results.ts';
import { allEvidence } from '../../server/src/core/verdicts/evidence.ts';
import type { PlainBase } from './arbitrary-base.ts';
import { type Demand, isKnownInScope, outcomeMember, ruleMember } from './joint-oracle.ts';

/** What rules demand of decided outcomes whose condition is not known, straight from the data. */
export function demandsIn(base: PlainBase, snapshot: Snapshot): Demand[] {
  return lawsOf(snapshot).flatMap(({ rule }) => {
    const plain = base.rule.find(({ id }) => id === rule.record.id)!;
    return allEvidence(snapshot).flatMap((evidence) => {
      const outcome = base.outcome.find(({ id }) => id === evidence.outcome.id)!;
      const { result } = evidence.verdicts[rule.stage];
      if (standing(rule, evidence) !== 'undecided' || result === 'inconclusive') return [];
      if (!isKnownInScope(plain, outcome, base)) return [];
      const works = result === 'works';
      if (works === (rule.claim === 'enough')) return [];
      return [{ rule: plain, outcome, holds: rule.claim === 'needs' }];
    });
  });
}

/** All that can be given up. */
export function allMembers(base: PlainBase, snapshot: Snapshot): string[] {
  const names = new Set<string>();
  for (const { pairs } of componentsIn(snapshot)) {
    for (const { rule, evidence, open } of pairs) {
      names.add(ruleMember(rule.record.id)).add(outcomeMember(evidence.outcome.id));
      for (const { share } of open.values()) if (share) names.add(`assumption ${shareName(share)}`);
    }
  }
  for (const { rule, outcome } of demandsIn(base, snapshot))
    names.add(ruleMember(rule.id)).add(outcomeMember(outcome.id));
  return [...names];
}
