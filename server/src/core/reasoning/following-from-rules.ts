import { anew, type Derivation, type Steps } from '../index/derivation.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { namesUnknown } from './names-unknown.ts';
import { type Rule, rules, rulesOf } from './rule.ts';

/** Something that follows from the rules alone that name nothing unrecorded, and from what swaps there could be. */
export function followingFromRules<Value>(
  name: string,
  work: (rules: readonly Rule[], snapshot: Snapshot) => Steps<Value>,
  restsOn: readonly Derivation<unknown>[] = [],
): Derivation<Value> {
  return {
    name,
    restsOn: [rules, ...restsOn],
    *compute(snapshot) {
      const known: Rule[] = [];
      for (const rule of rulesOf(snapshot)) {
        if (!namesUnknown(rule, snapshot)) known.push(rule);
        yield;
      }
      return yield* work(known, snapshot);
    },
    // What swaps there could be follows from no drive; and outcomes are named by exceptions only, which do not matter here.
    update: (value, { records }) =>
      records.every(({ kind }) => kind === 'drive' || kind === 'outcome') ? value : anew,
  };
}
