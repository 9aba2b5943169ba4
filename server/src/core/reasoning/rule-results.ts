/**
 * How each outcome stands to each rule.
 * Laws (test/property/rule-results.property.test.ts):
 * - every outcome in scope stands in exactly one relation to a rule
 * - an outcome is against a rule only if both its verdict and the condition are decided
 * - an exception takes an outcome out of the counts and changes no other
 */
import { evaluate } from '../conditions/evaluate.ts';
import type { Truth } from '../conditions/truth.ts';
import type { Layer } from '../index/memo.ts';
import { byCodeUnits, type Snapshot } from '../index/snapshot.ts';
import type { Claim } from '../terms/claims.ts';
import { allEvidence, type Evidence } from '../verdicts/evidence.ts';
import { isInScope, type Rule, rulesOf } from './rule.ts';

/** How one outcome stands to one rule. */
export type Relation = 'support' | 'against' | 'neutral' | 'undecided' | 'excepted';

/** A rule with the outcomes in its scope, each list by outcome id. Those out of scope are in none. */
export interface RuleResult {
  readonly rule: Rule;
  readonly support: readonly Evidence[];
  readonly against: readonly Evidence[];
  /** Decided outcomes about which the claim says nothing. */
  readonly neutral: readonly Evidence[];
  readonly undecided: readonly Evidence[];
  readonly excepted: readonly Evidence[];
}

const resultLayer: Layer<RuleResult> = { name: 'rule result' };

/** The results of every rule that can be applied, by rule id. */
export function ruleResults(snapshot: Snapshot): RuleResult[] {
  const evidence = allEvidence(snapshot);
  const byFamily = groupByFamily(evidence);
  return rulesOf(snapshot).map((rule) => {
    const candidates = candidatesOf(rule, evidence, byFamily);
    const inputs = [rule, ...candidates];
    return snapshot.layers.of(resultLayer).get(rule.record.id, inputs, () => computeResult(rule, candidates));
  });
}

/** How an outcome in scope stands to a claim: `works` at the rule's stage and the truth of its condition, both decided. */
function relationOf(claim: Claim, works: boolean, condition: boolean): 'support' | 'against' | 'neutral' {
  switch (claim) {
    case 'needs':
      if (works) return condition ? 'support' : 'against';
      return condition ? 'neutral' : 'support';
    case 'enough':
      if (!condition) return 'neutral';
      return works ? 'support' : 'against';
    case 'prevents':
      if (works) return condition ? 'against' : 'support';
      return condition ? 'support' : 'neutral';
  }
}

/** How one outcome stands to one rule; undefined where it is out of scope. */
export function standing(rule: Rule, evidence: Evidence): Relation | undefined {
  const { swap, outcome } = evidence;
  const scope: Truth = swap ? isInScope(rule, swap.patient) : undefined;
  if (scope === false) return undefined;
  if (rule.exceptions.has(outcome.id)) return 'excepted';
  const verdict = evidence.verdicts[rule.stage];
  // A rate is judged over eligible outcomes only: successes are recorded without controls, failures seldom are.
  const isDecided = rule.atLeast === undefined ? verdict.result !== 'inconclusive' : verdict.isEligible;
  const condition = swap && evaluate(rule.when, swap);
  if (scope === undefined || condition === undefined || !isDecided) return 'undecided';
  return relationOf(rule.claim, verdict.result === 'works', condition);
}

function computeResult(rule: Rule, candidates: readonly Evidence[]): RuleResult {
  const lists: Record<Relation, Evidence[]> = { support: [], against: [], neutral: [], undecided: [], excepted: [] };
  for (const evidence of candidates) {
    const relation = standing(rule, evidence);
    if (relation) lists[relation].push(evidence);
  }
  return { rule, ...lists };
}

type ByFamily = ReadonlyMap<string | undefined, readonly Evidence[]>;

function groupByFamily(evidence: readonly Evidence[]): ByFamily {
  const groups = new Map<string | undefined, Evidence[]>();
  for (const one of evidence) {
    const family = one.swap?.patient.drive.data.family;
    const group = groups.get(family);
    if (group) group.push(one);
    else groups.set(family, [one]);
  }
  return groups;
}

/** Outcomes that may lie in a rule's scope. Those whose patient has no readable family may lie in any. */
function candidatesOf(rule: Rule, evidence: readonly Evidence[], byFamily: ByFamily): readonly Evidence[] {
  const families = rule.record.data.applies_to?.families ?? [];
  if (families.length === 0) return evidence;
  const found = [undefined, ...new Set(families)].flatMap((family) => byFamily.get(family) ?? []);
  return found.sort((a, b) => byCodeUnits(a.outcome.id, b.outcome.id));
}
