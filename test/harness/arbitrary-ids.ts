import fc from 'fast-check';
import type { Kind } from '../../server/src/core/terms/kinds.ts';
import { idPools } from './base-values.ts';

/** The ids that a random base records, by kind: the first few of each pool, at least one. */
export type Ids = Readonly<Record<Kind, readonly string[]>>;

/** How many records of each kind a base has: at least one, and two drives for a swap. */
export const arbitraryIds: fc.Arbitrary<Ids> = fc.record({
  maker: firstOf(idPools.maker),
  family: firstOf(idPools.family),
  board: firstOf(idPools.board),
  drive: firstOf(idPools.drive, 2),
  outcome: firstOf(idPools.outcome),
  rule: firstOf(idPools.rule),
});

function firstOf(pool: readonly string[], min = 1): fc.Arbitrary<readonly string[]> {
  return fc.integer({ min, max: pool.length }).map((count) => pool.slice(0, count));
}

/** The id of a record of this kind, rarely of one that is not recorded. */
export function arbitraryReference(kind: Kind, ids: Ids): fc.Arbitrary<string> {
  return fc.oneof(
    { weight: 24, arbitrary: fc.constantFrom(...ids[kind]) },
    { weight: 1, arbitrary: fc.constantFrom(...idPools[kind]) },
  );
}
