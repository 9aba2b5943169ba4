import type { Snapshot } from '../index/snapshot.ts';
import { findSorted } from '../index/sorted.ts';
import { impossibleRules } from '../reasoning/rule-relations.ts';
import { type RuleResult, ruleResults } from '../reasoning/rule-results.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { outcomeIdOf } from '../verdicts/evidence.ts';
import type { RuleChange, RuleFlip, RuleStanding } from './review.ts';

/** The rules to which outcomes stand otherwise than before, by id. */
export function ruleChanges(before: Snapshot, after: Snapshot): readonly RuleChange[] {
  return bothSides(before, after).filter(({ before: then, after: now }) => !then || !now || !isAlike(then, now));
}

/** The rules that are taken for something else than before, by id. */
export function ruleFlips(before: Snapshot, after: Snapshot): readonly RuleFlip[] {
  return bothSides(before, after).flatMap(({ id, before: then, after: now }) => {
    const flip = { id, before: then && standingOf(then, before), after: now && standingOf(now, after) };
    return flip.before === flip.after ? [] : [flip];
  });
}

/** What a rule is taken for. Exceptions are no trouble: somebody has given a reason. */
function standingOf({ rule, support, against, neutral }: RuleResult, snapshot: Snapshot): RuleStanding {
  if (impossibleRules(snapshot).has(rule)) return 'impossible';
  if (support.length + against.length + neutral.length === 0) return 'untested';
  return rule.atLeast === undefined && against.length > 0 ? 'against' : 'stands';
}

function bothSides(before: Snapshot, after: Snapshot): readonly RuleChange[] {
  const [then, now] = [ruleResults(before), ruleResults(after)];
  const ids = new Set([...then, ...now].map(ruleIdOf));
  return [...ids].sort(byCodeUnits).map((id) => ({
    id,
    before: findSorted(then, id, ruleIdOf),
    after: findSorted(now, id, ruleIdOf),
  }));
}

function ruleIdOf({ rule }: RuleResult): string {
  return rule.record.id;
}

const counted = ['support', 'against', 'undecided', 'excepted'] as const;

/** Whether the same outcomes stand to a rule in the same ways. Those it says nothing about are nowhere counted. */
function isAlike(a: RuleResult, b: RuleResult): boolean {
  return counted.every((name) => {
    const [left, right] = [a[name], b[name]];
    if (left === right) return true;
    return left.length === right.length && left.every((one, at) => outcomeIdOf(one) === outcomeIdOf(right[at] ?? one));
  });
}
