import type { Layer } from '../index/memo.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { isRetracted } from '../model/record.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { evidenceOf } from '../verdicts/evidence.ts';
import { componentsIn } from './joint-groups.ts';
import { type Law, lawsOf } from './joint-laws.ts';
import { type OpenPair, openPair } from './joint-pairs.ts';
import { JointProblem } from './joint-problem.ts';
import { withoutLoose } from './loose-pairs.ts';
import { isInScope, type Rule, rulesOf } from './rule.ts';
import { standing } from './rule-results.ts';

/** Why a rule would do without an exception. */
export type Excess = 'retracted' | 'out of scope' | 'support' | 'neutral' | 'inconclusive' | 'open';

/** An exception that changes nothing. */
export interface ExcessException {
  readonly rule: Rule;
  /** Its position in the rule's list. */
  readonly position: number;
  readonly outcome: string;
  readonly because: Excess;
}

const layer: Layer<boolean> = { name: 'exception needed' };

/**
 * The exceptions of rules that are not needed: without one the outcome would not stand against the rule, nor contradict others together
 * with it. What is in doubt counts as needed. Those for outcomes that cannot be judged are left out.
 */
export function* excessExceptions(snapshot: Snapshot): Generator<ExcessException> {
  const laws = new Map(lawsOf(snapshot).map((law) => [law.rule, law]));
  for (const rule of rulesOf(snapshot)) {
    for (const [position, { outcome = '' }] of (rule.record.data.exceptions ?? []).entries()) {
      const because = excessOf(rule, outcome, laws.get(rule), snapshot);
      if (because) yield { rule, position, outcome, because };
    }
  }
}

function excessOf(rule: Rule, id: string, law: Law | undefined, snapshot: Snapshot): Excess | undefined {
  const outcome = snapshot.find('outcome', id);
  if (!outcome) return undefined;
  if (isRetracted(outcome)) return outcome.data.retracted ? 'retracted' : undefined;
  const evidence = evidenceOf(outcome, snapshot);
  const { swap } = evidence;
  if (!swap || outcome.data.reached === undefined) return undefined;
  const strict: Rule = { ...rule, exceptions: new Set([...rule.exceptions].filter((other) => other !== id)) };
  const relation = standing(strict, evidence);
  if (relation === undefined) return 'out of scope';
  if (relation === 'against' || relation === 'excepted') return undefined;
  if (relation !== 'undecided') return relation;
  if (isInScope(rule, swap.patient) === true && evidence.verdicts[rule.stage].result === 'inconclusive') {
    return 'inconclusive';
  }
  // A law that can never be met, or that names what is not recorded, has to be mended first.
  if (!law && rule.atLeast === undefined) return undefined;
  const pair = law && openPair({ ...law, rule: strict }, evidence);
  return pair && isAtOdds(pair, snapshot) ? undefined : 'open';
}

/** Whether the pair contradicts those it shares unknowns with, or these contradict each other. */
function isAtOdds(pair: OpenPair, snapshot: Snapshot): boolean {
  const links = new Set(pair.links);
  const related = componentsIn(snapshot).filter(({ pairs }) =>
    pairs.some((other) => other.links.some((link) => links.has(link))),
  );
  const { rule, evidence } = pair;
  const inputs = [rule.record, evidence, ...related];
  return snapshot.layers.of(layer).get(`${rule.record.id} ${evidence.outcome.id}`, inputs, () => {
    const pairs = [...related.flatMap((component) => component.pairs), pair].sort(byRuleAndOutcome);
    const problem = new JointProblem(withoutLoose(pairs));
    return problem.solver.statusOf([...problem.members.keys()]) !== 'sat';
  });
}

function byRuleAndOutcome(a: OpenPair, b: OpenPair): number {
  return byCodeUnits(a.rule.record.id, b.rule.record.id) || byCodeUnits(a.evidence.outcome.id, b.evidence.outcome.id);
}
