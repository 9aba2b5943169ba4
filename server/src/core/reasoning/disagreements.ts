/**
 * Outcomes of one family that look alike in everything recorded of both, and yet came out opposite.
 * Laws (test/property/disagreements.property.test.ts):
 * - two outcomes disagree by the words of the design, and in one list only, that of the later
 */
import { type ComparableKey, comparableKeys } from '../../../../schemas/gen/key-table.ts';
import { evaluateAtom } from '../conditions/evaluate.ts';
import { romTravels } from '../conditions/rom-travels.ts';
import type { Swap } from '../conditions/swap.ts';
import { type Derivation, derive, type Steps } from '../index/derivation.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { drained } from '../terms/drained.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { affectedFamilies, evidenceByFamily, evidenceTableByFamily } from '../verdicts/evidence-by-family.ts';
import { isRuledOut } from '../verdicts/observed-limits.ts';
import { pairName } from '../verdicts/pair-name.ts';

/** An earlier outcome that came out opposite, by id. */
interface Opposite {
  readonly outcome: Evidence['outcome'];
  /** Keys in which both swaps can be compared, and do compare alike; `family` is not among them. */
  readonly shared: readonly ComparableKey[];
  /** Keys in which neither swap can be compared. */
  readonly unrecorded: readonly ComparableKey[];
}

/** An outcome with the earlier ones it disagrees with. */
export interface Disagreement {
  readonly outcome: Evidence['outcome'];
  readonly works: boolean;
  /** Whether the ROM travelled, in all of them. */
  readonly romTravels: boolean;
  /** At least one; those with most keys in common first, then by id. Computed while it is walked: there may be very many. */
  readonly opposites: Iterable<Opposite>;
}

/** Keys it takes at least to call two swaps alike. */
const fewestShared = 3;

/** All disagreements, in no particular order. What one holds is worth keeping only while it is looked at. */
export function* disagreements(snapshot: Snapshot): Generator<Disagreement> {
  for (const found of derive(disagreementsByFamily, snapshot).values()) yield* found;
}

/** Disagreements by family; families without any are absent. */
export const disagreementsByFamily: Derivation<ReadonlyMap<string, readonly Disagreement[]>> = {
  name: 'disagreements',
  restsOn: [evidenceTableByFamily],
  compute: (snapshot) => replaceFamilies(new Map(), evidenceByFamily(snapshot).keys(), snapshot),
  update: (value, changes) => drained(replaceFamilies(value, affectedFamilies(changes), changes.after)),
};

function* replaceFamilies(
  before: ReadonlyMap<string, readonly Disagreement[]>,
  families: Iterable<string | undefined>,
  snapshot: Snapshot,
): Steps<ReadonlyMap<string, readonly Disagreement[]>> {
  const found = new Map(before);
  for (const family of families) {
    yield;
    if (family === undefined) continue;
    const here = [...disagreementsIn(evidenceByFamily(snapshot).get(family) ?? [], snapshot)];
    if (here.length > 0) found.set(family, here);
    else found.delete(family);
  }
  return found;
}

function* disagreementsIn(evidence: readonly Evidence[], snapshot: Snapshot): Generator<Disagreement> {
  for (const group of groupsOf(evidence, snapshot)) {
    if (group.works.length === 0 || group.fails.length === 0) continue;
    const kinds = kindsOf(group, snapshot);
    for (const kind of kinds) {
      const alike = alikeTo(kind, kinds);
      for (const works of [true, false]) {
        for (const one of works ? kind.works : kind.fails) {
          const opposites = { [Symbol.iterator]: () => oppositesOf({ one, works, kind, alike }) };
          if (opposites[Symbol.iterator]().next().done) continue;
          yield { outcome: one.outcome, works, romTravels: group.romTravels, opposites };
        }
      }
    }
  }
}

/** A decided outcome with what is compared. */
interface Decided {
  readonly outcome: Evidence['outcome'];
  readonly swap: Swap;
  /** The pair's name, the same whichever way round. */
  readonly pair: string;
}

/** Decided outcomes of one family in which the ROM travelled, or of one in which it did not; each list by id. */
interface Group {
  readonly romTravels: boolean;
  readonly works: Decided[];
  readonly fails: Decided[];
}

function groupsOf(evidence: readonly Evidence[], { config: { worksAt } }: Snapshot): Iterable<Group> {
  const groups = new Map<boolean, Group>();
  for (const { outcome, swap, verdicts } of evidence) {
    const { result } = verdicts[worksAt];
    if (!swap || result === 'inconclusive') continue;
    const travels = romTravels(swap);
    if (travels === undefined) continue;
    const group = groups.get(travels) ?? { romTravels: travels, works: [], fails: [] };
    groups.set(travels, group);
    group[result].push({ outcome, swap, pair: pairName(swap.patient.drive.id, swap.donor.drive.id) });
  }
  return groups.values();
}

/** One bit for each comparable key, in their order. */
interface Pattern {
  /** Keys in which the two drives can be compared. */
  readonly known: number;
  /** Keys, among those, in which they are the same. */
  readonly same: number;
}

/** The outcomes of a group that have one pattern. Outcomes are many and patterns few, so patterns are what is compared. */
interface PatternKind extends Pattern {
  readonly works: Decided[];
  readonly fails: Decided[];
}

function kindsOf(group: Group, snapshot: Snapshot): PatternKind[] {
  const kinds = new Map<string, PatternKind>();
  for (const result of ['works', 'fails'] as const) {
    for (const one of group[result]) {
      const isCompared = evaluateAtom({ test: 'same', key: 'rev' }, one.swap) !== undefined;
      if (!isCompared || (result === 'works' && isRuledOut(snapshot.config.worksAt, one.outcome, snapshot))) continue;
      const { known, same } = patternOf(one.swap);
      const name = `${known} ${same}`;
      const kind = kinds.get(name) ?? { known, same, works: [], fails: [] };
      kinds.set(name, kind);
      kind[result].push(one);
    }
  }
  return [...kinds.values()];
}

function patternOf(swap: Swap): Pattern {
  let known = 0;
  let same = 0;
  for (const [position, key] of comparableKeys.entries()) {
    const truth = evaluateAtom({ test: 'same', key }, swap);
    if (truth !== undefined) known |= 1 << position;
    if (truth === true) same |= 1 << position;
  }
  return { known, same };
}

/** The kinds a kind cannot be told apart from, itself among them where it may be, those with most keys in common first. */
function alikeTo(kind: PatternKind, kinds: readonly PatternKind[]): PatternKind[] {
  const byShared: PatternKind[][] = comparableKeys.map(() => []);
  for (const other of kinds) {
    const both = kind.known & other.known;
    if (((kind.same ^ other.same) & both) === 0) byShared[countBits(both & ~familyBit)]?.push(other);
  }
  return byShared.slice(fewestShared).reverse().flat();
}

interface Question {
  readonly one: Decided;
  readonly works: boolean;
  readonly kind: PatternKind;
  readonly alike: readonly PatternKind[];
}

/** Earlier outcomes of other pairs that came out opposite. */
function* oppositesOf({ one, works, kind, alike }: Question): Generator<Opposite> {
  for (const other of alike) {
    let keys: Pick<Opposite, 'shared' | 'unrecorded'> | undefined;
    for (const { outcome, pair } of works ? other.fails : other.works) {
      if (outcome.id >= one.outcome.id) break;
      if (pair === one.pair) continue;
      keys ??= {
        shared: keysIn(kind.known & other.known & ~familyBit),
        unrecorded: keysIn(~(kind.known | other.known)),
      };
      yield { outcome, ...keys };
    }
  }
}

const familyBit = 1 << comparableKeys.indexOf('family');

function keysIn(bits: number): ComparableKey[] {
  return comparableKeys.filter((_, position) => (bits & (1 << position)) !== 0);
}

/** Ones among 32 bits, counted in pairs, then fours, then bytes: this runs for every two kinds of a group. */
function countBits(bits: number): number {
  const pairs = bits - ((bits >>> 1) & 0x55555555);
  const fours = (pairs & 0x33333333) + ((pairs >>> 2) & 0x33333333);
  return Math.imul((fours + (fours >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}
