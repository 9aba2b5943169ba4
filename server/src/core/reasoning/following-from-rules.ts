import type { Derivation } from '../index/derivation.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { namesUnknown } from './names-unknown.ts';
import { type Rule, rulesOf } from './rule.ts';

/** Something that follows from the rules alone that name nothing unrecorded, and from what swaps there could be. */
export function followingFromRules<Value>(
  name: string,
  work: (rules: readonly Rule[], snapshot: Snapshot) => Value,
): Derivation<Value> {
  const compute = (snapshot: Snapshot): Value => {
    const rules = rulesOf(snapshot).filter((rule) => !namesUnknown(rule, snapshot));
    return work(rules, snapshot);
  };
  return {
    name,
    compute,
    // What swaps there could be follows from no drive; and outcomes are named by exceptions only, which do not matter here.
    update: (value, { records, after }) =>
      records.every(({ kind }) => kind === 'drive' || kind === 'outcome') ? value : compute(after),
  };
}
