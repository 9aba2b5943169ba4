import { type ComparableKey, comparableKeys } from '../../../../schemas/gen/key-table.ts';
import { evaluateAtom } from '../conditions/evaluate.ts';
import type { Swap } from '../conditions/swap.ts';

/** The comparable keys that both sides of a swap record, by whether their values are equal; each list in the order of the schemas. */
export interface SharedKeys {
  readonly matching: readonly ComparableKey[];
  readonly differing: readonly ComparableKey[];
}

/** How the two sides of a swap compare, whether or not a rule asks for it. */
export function sharedKeys(swap: Swap): SharedKeys {
  const matching: ComparableKey[] = [];
  const differing: ComparableKey[] = [];
  for (const key of comparableKeys) {
    const isSame = evaluateAtom({ test: 'same', key }, swap);
    if (isSame !== undefined) (isSame ? matching : differing).push(key);
  }
  return { matching, differing };
}
