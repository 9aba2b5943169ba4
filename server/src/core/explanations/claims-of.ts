import type { ConditionData } from '../../../../schemas/gen/records.ts';
import { type Formula, toFormula } from '../conditions/formula.ts';
import { conditionOf, type Entry } from './entry.ts';
import type { Conjunction, Partition } from './partitions.ts';

/** A condition and what comes of swaps that meet it; the others come out the other way. */
export interface Claim {
  readonly condition: ConditionData;
  readonly formula: Formula;
  readonly holds: 'works' | 'fails';
}

/** What a partition says, written as conditions when that is asked for: of thousands few are shown. */
export class Claims {
  private known: readonly [Claim, ...Claim[]] | undefined;

  /** `worksWhereItHolds` is of the partition's first condition. */
  constructor(
    private readonly partition: Partition,
    private readonly worksWhereItHolds: boolean,
  ) {}

  /** The claim that names the partition. */
  get first(): Claim {
    return this.all[0];
  }

  /** Those of as few entries that say the same. */
  get equals(): readonly Claim[] {
    return this.all.slice(1);
  }

  private get all(): readonly [Claim, ...Claim[]] {
    this.known ??= claimsOf(this.partition, this.worksWhereItHolds);
    return this.known;
  }
}

function claimsOf({ conjunctions }: Partition, worksWhereItHolds: boolean): readonly [Claim, ...Claim[]] {
  const [first, ...others] = conjunctions;
  const [only, ...further] = first.terms;
  if (only && further.length === 0) {
    const [entry, ...entries] = only.of.entries;
    return [simpleClaim(entry, worksWhereItHolds), ...entries.map((other) => simpleClaim(other, worksWhereItHolds))];
  }
  const joined = ({ terms, isOpposite }: Conjunction): Claim => {
    const entries = terms.map(({ of, wanted }) => (wanted ? of.entries[0] : opposite(of.entries[0])));
    return claimOf(entries, worksWhereItHolds !== isOpposite);
  };
  return [joined(first), ...others.map(joined)];
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
