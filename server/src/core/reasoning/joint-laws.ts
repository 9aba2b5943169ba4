import { derive, type Steps } from '../index/derivation.ts';
import type { Layer } from '../index/memo.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { BoardRecord } from '../model/record.ts';
import { followingFromRules } from './following-from-rules.ts';
import { mentionsOf } from './mentions.ts';
import type { Rule } from './rule.ts';
import { impossibleRules, rulesThatAreImpossible } from './rule-relations.ts';

/** A law that outcomes are held against together. */
export interface Law {
  readonly rule: Rule;
  /** The recorded boards its condition names. */
  readonly boards: readonly BoardRecord[];
}

const lawLayer: Layer<Law> = { name: 'law' };

/** The laws that take part in joint reasoning. */
export const jointLaws = followingFromRules(
  'laws',
  function* (rules, snapshot): Steps<readonly Law[]> {
    const impossible = impossibleRules(snapshot);
    const laws: Law[] = [];
    for (const rule of rules) {
      if (rule.atLeast === undefined && !impossible.has(rule)) laws.push(lawOf(rule, snapshot));
      yield;
    }
    return laws;
  },
  [rulesThatAreImpossible],
);

/**
 * The laws that take part in joint reasoning, by id. Left out are those that nothing can meet or break, and those that name something
 * unrecorded: both were reported, and may be all there is to a contradiction.
 */
export function lawsOf(snapshot: Snapshot): readonly Law[] {
  return derive(jointLaws, snapshot);
}

/** The id of a law's rule. */
export function lawId({ rule }: Law): string {
  return rule.record.id;
}

/** The same object for as long as the rule and the boards it names stay the same. */
function lawOf(rule: Rule, snapshot: Snapshot): Law {
  const boards = [...mentionsOf([rule]).boards].flatMap((id) => snapshot.find('board', id) ?? []);
  return snapshot.layers.of(lawLayer).get(rule.record.id, [rule, ...boards], () => ({ rule, boards }));
}
