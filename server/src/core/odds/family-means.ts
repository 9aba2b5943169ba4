/**
 * The pooled means of families for as many conditions as are asked for: what each of a few formulas says of an outcome is worked out
 * once, whatever is then wanted of them.
 * Laws (test/property/family-means.property.test.ts):
 * - the mean is that of the row of all families of which the wanted condition is given
 * - the means after edits are those of a fresh base
 */

import { evaluate } from '../conditions/evaluate.ts';
import type { Formula } from '../conditions/formula.ts';
import type { Swap } from '../conditions/swap.ts';
import type { Truth } from '../conditions/truth.ts';
import type { Layer } from '../index/memo.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { addTo } from '../terms/grouped.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { evidenceByFamily } from '../verdicts/evidence-by-family.ts';
import { countPairs, independentTally, type Trial } from './count-pairs.ts';
import type { Tally } from './exact-bounds.ts';
import { makerOf } from './family-rates.ts';
import { countedSwaps } from './family-trials.ts';
import { meanPooler } from './pooled-rates.ts';

/** Which rows of odds are meant. */
interface MeansQuestion {
  readonly family: string;
  readonly romTravels: Truth;
  /** What outcomes are told apart by. */
  readonly formulas: readonly Formula[];
}

/** What formulas say of a swap, a letter each: `y`, `n`, or `?` where it is not known. */
export function answersTo(formulas: readonly Formula[], swap: Swap): string {
  let answers = '';
  for (const formula of formulas) {
    const truth = evaluate(formula, swap);
    answers += truth === undefined ? '?' : truth ? 'y' : 'n';
  }
  return answers;
}

/**
 * Gives the pooled mean of the outcomes of which the formulas say the same as in some answers wherever these are decided. Undefined
 * where the family is not recorded.
 */
export function familyMeans(
  { family, romTravels, formulas }: MeansQuestion,
  snapshot: Snapshot,
): (wanted: string) => number | undefined {
  const byFamily = evidenceByFamily(snapshot);
  const memo = snapshot.layers.of(talliesLayer);
  // Answers by number: they are compared for every family again, and there are few.
  const met = new Map<string, number>();
  const families = snapshot.records('family').map(({ id }) => {
    const evidence = byFamily.get(id) ?? none;
    const { tallyOf, answers } = memo.get(`${id} ${romTravels}`, [evidence, snapshot.config, ...formulas], () =>
      talliesOf(alikeTrials(evidence, { romTravels, formulas }, snapshot)),
    );
    for (const one of answers) if (!met.has(one)) met.set(one, met.size);
    return { id, parent: makerOf(id, snapshot), tallyOf, numbers: answers.map((one) => met.get(one) ?? 0) };
  });
  const own = families.findIndex(({ id }) => id === family);
  const meanOf = meanPooler();
  return (wanted) => {
    const fitting = Array.from(met.keys(), (answers) => fits(answers, wanted));
    const groups = families.map(({ parent, tallyOf, numbers }) => {
      const { successes, trials } = tallyOf(wanted, (group) => fitting[numbers[group] ?? 0] === true);
      return { parent, successes, trials };
    });
    const group = groups[own];
    return group && meanOf(groups, group);
  };
}

const none: readonly Evidence[] = [];

/** The outcomes of a family by what the formulas say of them. */
interface FamilyTallies {
  /** Those that are met, group by group. */
  readonly answers: readonly string[];
  /** The tally of what is wanted: of the groups, by position, whose answers fit it. */
  readonly tallyOf: (wanted: string, isFitting: IsFitting) => Tally;
}

type IsFitting = (group: number) => boolean;

const talliesLayer: Layer<FamilyTallies> = { name: 'tallies by answers' };

/** Outcomes of which the formulas say the same. */
interface AlikeTrials {
  readonly answers: string;
  readonly trials: readonly Trial[];
  readonly successes: number;
}

function alikeTrials(
  evidence: readonly Evidence[],
  { romTravels, formulas }: Omit<MeansQuestion, 'family'>,
  snapshot: Snapshot,
): readonly AlikeTrials[] {
  const byAnswers = new Map<string, Trial[]>();
  for (const { swap, trial } of countedSwaps(evidence, snapshot.config, romTravels)) {
    addTo(byAnswers, answersTo(formulas, swap), trial);
  }
  return Array.from(byAnswers, ([answers, trials]) => ({
    ...{ answers, trials },
    successes: trials.filter(({ succeeded }) => succeeded).length,
  }));
}

/** Tallies of outcomes, each worked out once. */
function talliesOf(groups: readonly AlikeTrials[]): FamilyTallies {
  const isPlain = isEachDriveTriedOnce(groups);
  const known = new Map<string, Tally>();
  return {
    answers: groups.map(({ answers }) => answers),
    tallyOf: (wanted, isFitting) => {
      if (isPlain) return plainTally(groups, isFitting);
      const tally = known.get(wanted) ?? pairedTally(groups, isFitting);
      known.set(wanted, tally);
      return tally;
    },
  };
}

/** Whether every outcome is a pair of its own that shares no drive, so that there is nothing to weigh or to choose. */
function isEachDriveTriedOnce(groups: readonly AlikeTrials[]): boolean {
  const seen = new Set<string>();
  for (const { trials } of groups) {
    for (const { drives } of trials) {
      for (const drive of drives) {
        if (seen.has(drive)) return false;
        seen.add(drive);
      }
    }
  }
  return true;
}

function plainTally(groups: readonly AlikeTrials[], isFitting: IsFitting): Tally {
  let [successes, trials] = [0, 0];
  for (let n = 0; n < groups.length; n++) {
    const group = groups[n];
    if (!group || !isFitting(n)) continue;
    successes += group.successes;
    trials += group.trials.length;
  }
  return { successes, trials };
}

function pairedTally(groups: readonly AlikeTrials[], isFitting: IsFitting): Tally {
  const trials = groups.flatMap((group, n) => (isFitting(n) ? group.trials : []));
  return trials.length === 0 ? { successes: 0, trials: 0 } : independentTally(countPairs(trials));
}

function fits(answers: string, wanted: string): boolean {
  for (let n = 0; n < wanted.length; n++) {
    const letter = wanted.charCodeAt(n);
    if (letter !== notKnown && letter !== answers.charCodeAt(n)) return false;
  }
  return true;
}

const notKnown = '?'.charCodeAt(0);
