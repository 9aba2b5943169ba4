import fc from 'fast-check';
import type { RuleData } from '../../schemas/gen/records.ts';
import { arbitraryBase, type PlainBase } from './arbitrary-base.ts';
import { arbitraryCondition } from './arbitrary-condition.ts';
import type { Plain } from './arbitrary-parts.ts';
import { idPools } from './base-values.ts';

const ruleIds = ['r-1', 'r-2', 'r-3', 'r-4', 'r-5', 'r-6'];

/** Laws of which any two may have a swap in common: most speak of everything, or of one family or maker. */
function arbitraryLaw(id: string): fc.Arbitrary<Plain<RuleData>> {
  const scope = fc.oneof(
    { weight: 3, arbitrary: fc.constant({}) },
    { weight: 2, arbitrary: fc.constantFrom(...idPools.family).map((family) => ({ families: [family] })) },
    { weight: 1, arbitrary: fc.constantFrom(...idPools.maker).map((maker) => ({ makers: [maker] })) },
    {
      weight: 1,
      arbitrary: fc.constantFrom({ from: 2013 }, { to: '2012-08' }, { from: 2012, to: 2012 }).map((made) => ({ made })),
    },
  );
  return fc
    .tuple(
      fc.constantFrom('needs', 'enough', 'prevents'),
      arbitraryCondition(2),
      scope,
      fc.constantFrom('ready', 'reads', 'reads'),
    )
    .map(
      ([claim, when, applies_to, stage]) => ({ kind: 'rule', id, claim, when, applies_to, stage }) as Plain<RuleData>,
    );
}

/** Small bases whose rules are laws, six of them. */
export const arbitraryRuleBase: fc.Arbitrary<PlainBase> = fc
  .tuple(arbitraryBase, ...ruleIds.map(arbitraryLaw))
  .map(([base, ...rule]) => ({ ...base, config: { swaplore: 1 as const }, rule }));
