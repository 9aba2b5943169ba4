/**
 * What divides the swaps of a family that worked from those that failed: every condition of a few entries, how well it fits, how often
 * chance alone fits as well, and how far to believe it.
 * Laws (test/property/explanations.property.test.ts):
 * - the order of the outcomes changes nothing
 * - worked and failed exchanged keep every p
 * - a hypothesis that separates has no outcome against it, and the smallest p there could be
 */
import type { ConditionData } from '../../../../schemas/gen/records.ts';
import { type Formula, toFormula } from '../conditions/formula.ts';
import { romTravels } from '../conditions/rom-travels.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import type { DecidedSwap } from './decided-swaps.ts';
import { conditionOf, type Entry } from './entry.ts';
import { entryClasses } from './entry-classes.ts';
import { adjustReachable } from './many-tests.ts';
import { type Partition, partitionsBy, truthsOf } from './partitions.ts';
import { restsOnProxy } from './rests-on-proxy.ts';
import { listPairs, type Tally, tallyPairs } from './tally.ts';
import { votesOf, weigh } from './weigh.ts';

/** A condition and what comes of swaps that meet it; the others come out the other way. */
export interface Claim {
  readonly condition: ConditionData;
  readonly formula: Formula;
  readonly holds: 'works' | 'fails';
}

/** A way to tell swaps that work from others. */
export interface Hypothesis {
  readonly claim: Claim;
  /** Claims of as few entries that say the same of every decided outcome. */
  readonly equals: readonly Claim[];
  readonly tally: Tally;
  /** p adjusted for all that were looked at; undefined where it could not have reached the threshold whatever came of the swaps. */
  readonly adjusted: number | undefined;
  /** How far it is to be believed, 0 to 1. */
  readonly weight: number;
}

/** All hypotheses about some swaps, and that none is right. */
export interface Explanations {
  /** Those to be believed most first; of equal ones those of fewest entries. */
  readonly hypotheses: readonly Hypothesis[];
  /** How far to believe that none of them is right, 0 to 1. */
  readonly none: number;
  /** Classes of entries: the swaps cannot tell those of one class apart. */
  readonly classes: number;
  /** How many of the classes were joined in conditions of two and of three entries; those of three are absent for few pairs. */
  readonly joined: ReadonlyMap<number, number>;
}

/** Explains decided swaps of one family. There are no hypotheses where all came out alike. */
export function explainSwaps(swaps: readonly DecidedSwap[]): Explanations {
  const decided = [...swaps].sort((a, b) => byCodeUnits(a.outcome, b.outcome));
  const isOpen = decided.some(({ works }) => works) && decided.some(({ works }) => !works);
  const classes = isOpen ? entryClasses(decided) : [];
  const pairs = listPairs(decided);
  const { partitions, joined } = partitionsBy(classes, decided.length, pairs.names.length);
  const everyRomTravelled = decided.every(({ swap }) => romTravels(swap) === true);
  const candidates = partitions.map((partition) => {
    const isProxy = partition.conjunctions.every((one) => restsOnProxy(one, everyRomTravelled));
    return { ...partition, truths: truthsOf(partition.conjunctions[0].terms), share: isProxy ? shareOfProxy : 1 };
  });
  const { weights, none } = weigh(candidates, decided, votesOf(decided, classes));
  const tallies = candidates.map(({ truths }) => tallyPairs(truths, decided, pairs));
  const adjusted = adjustReachable(tallies.map(({ test }) => test));
  const hypotheses = candidates.flatMap((partition, n): Hypothesis[] => {
    const [weight, tally] = [weights[n], tallies[n]];
    if (!weight || !tally) return [];
    const [claim, ...equals] = claimsOf(partition, weight.worksWhereItHolds >= 0.5);
    return claim ? [{ claim, equals, tally, adjusted: adjusted[n], weight: weight.weight }] : [];
  });
  return { hypotheses: hypotheses.sort((a, b) => b.weight - a.weight), none, classes: classes.length, joined };
}

/** What a condition that rests on proxies is given beside one that does not. Source: our own. */
const shareOfProxy = 1 / 4;

function claimsOf({ conjunctions }: Partition, worksWhereItHolds: boolean): Claim[] {
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
