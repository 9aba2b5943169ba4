import type { ConditionData } from '../../../../schemas/gen/records.ts';
import { type Formula, toFormula } from '../conditions/formula.ts';
import { conditionOf, type Entry } from './entry.ts';
import type { Partition } from './partitions.ts';

/** A condition and what comes of swaps that meet it; the others come out the other way. */
export interface Claim {
  readonly condition: ConditionData;
  readonly formula: Formula;
  readonly holds: 'works' | 'fails';
}

/** The claims of a partition, at least one, the one that names it first. `worksWhereItHolds` is of its first condition. */
export function claimsOf({ conjunctions }: Partition, worksWhereItHolds: boolean): readonly Claim[] {
  const [{ terms }] = conjunctions;
  const [only, ...others] = terms;
  if (only && others.length === 0) {
    return only.of.entries.map((entry) => simpleClaim(entry, worksWhereItHolds));
  }
  return conjunctions.map((one) => {
    const entries = one.terms.map(
      ({
        of: {
          entries: [first],
        },
        wanted,
      }) => (wanted ? first : opposite(first)),
    );
    return claimOf(entries, worksWhereItHolds !== one.isOpposite);
  });
}

/** What works where one entry holds; of a value also what fails there, which is easier to read than a value that must not be. */
function simpleClaim(entry: Entry, works: boolean): Claim {
  if (entry.atom.test !== 'side') return claimOf([works ? entry : opposite(entry)], true);
  return claimOf([{ ...entry, wanted: true }], works === entry.wanted);
}

function opposite(entry: Entry): Entry {
  return { ...entry, wanted: !entry.wanted };
}

function claimOf(entries: readonly Entry[], works: boolean): Claim {
  const condition = conditionOf(entries);
  return { condition, formula: toFormula(condition, []), holds: works ? 'works' : 'fails' };
}
