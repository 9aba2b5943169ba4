/**
 * How often swaps of a family worked, by whether the ROM travelled. Only eligible outcomes count: a success is always recorded as one,
 * a failure only with every control in place, so that counting all would make every rate too high.
 * Laws (test/property/family-odds.property.test.ts):
 * - every outcome of a family is in one row, worked without every control, or is inconclusive
 * - the odds after edits are those of a fresh base
 */
import type { Truth } from '../conditions/truth.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { BaseConfig } from '../model/config.ts';
import { remembered, rememberedWithin } from '../terms/remembered.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { evidenceByFamily } from '../verdicts/evidence-by-family.ts';
import { countPairs, independentTally, type PairCount } from './count-pairs.ts';
import { exactInterval } from './exact-bounds.ts';
import { joined, trialsByRom } from './family-trials.ts';

/** The eligible outcomes of a family whose ROM travelled, did not, or is not known to have (undefined). */
interface CountRow {
  readonly romTravels: Truth;
  readonly outcomes: number;
  /** Votes are pairs that worked at the base's `works_at`. */
  readonly count: PairCount;
}

/** The same with what it says of the rate. */
interface OddsRow extends CountRow {
  /** Exact 95 % interval of the rate, 0 to 1, over independent pairs. */
  readonly exact: readonly [number, number];
}

/** What came of the swaps whose patient is of a family. */
interface Counted<Row> {
  /** Travelled, not travelled, not known; rows without an outcome are left out. */
  readonly rows: readonly Row[];
  /** Outcomes that are not eligible: those that worked all the same, and the inconclusive ones. */
  readonly uncontrolled: { readonly worked: number; readonly open: number };
}

/** The odds of a family. */
export type FamilyOdds = Counted<OddsRow>;

/** The odds of a family by its id, worked out when they are asked for and kept for as long as its outcomes stay the same. */
export function familyOdds(family: string, snapshot: Snapshot): FamilyOdds {
  return oddsOf(familyCounts(family, snapshot));
}

/** The same without intervals, which take many steps: for lists of families. */
export function familyCounts(family: string, snapshot: Snapshot): Counted<CountRow> {
  return countsOf(evidenceByFamily(snapshot).get(family) ?? none, snapshot.config);
}

const none: readonly Evidence[] = [];

const oddsOf = remembered(({ rows, uncontrolled }: Counted<CountRow>): FamilyOdds => {
  const withBounds = rows.map((row) => ({ ...row, exact: exactInterval(independentTally(row.count), confidence) }));
  return { rows: withBounds, uncontrolled };
});

const countsOf = rememberedWithin((evidence: readonly Evidence[], config: BaseConfig): Counted<CountRow> => {
  const groups = trialsByRom(evidence, config);
  const rows = groups.map(({ romTravels, trials }) => ({
    romTravels,
    outcomes: trials.length,
    count: countPairs(trials),
  }));
  const { worked, open } = joined(groups);
  return { rows: rows.filter(({ outcomes }) => outcomes > 0), uncontrolled: { worked, open } };
});

/** Both sides leave out as much: 2.5 %. */
const confidence = 0.95;
