/**
 * The swaps a shelf allows, those put together of which every condition says the same.
 * Laws (test/property/trial-groups.property.test.ts):
 * - every swap of the shelf that was not tried stands in one group, and every entry says of it what it says of the group
 */
import { type ComparableKey, comparableKeys } from '../../../../schemas/gen/key-table.ts';
import { cellOf, revisionKeys } from '../conditions/cell.ts';
import { evaluateAtom } from '../conditions/evaluate.ts';
import { romTravels } from '../conditions/rom-travels.ts';
import type { Side, Swap } from '../conditions/swap.ts';
import type { Truth } from '../conditions/truth.ts';
import { plannedSwap } from '../donors/planned-swap.ts';
import { type RomPlan, romPlanFor } from '../donors/rom-plan.ts';
import type { DecidedSwap } from '../explanations/decided-swaps.ts';
import type { ComparedSwap } from '../explanations/entry-classes.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { foldText } from '../text/fold.ts';
import { pairName } from '../verdicts/pair-name.ts';
import type { TrialShelf } from './trial-shelf.ts';

/** Swaps not tried yet of which every condition says the same, by one of them. */
interface TrialGroup extends ComparedSwap {
  /** How many they are; a pair counts for each way round that belongs here. */
  readonly swaps: number;
}

/** The groups of a shelf, and what was left out of too many. */
export interface TrialGroups {
  /** Those of most swaps first. */
  readonly groups: readonly TrialGroup[];
  /** All groups there are of the drives looked at. */
  readonly all: number;
  /** Drives looked at, of those that are fit. */
  readonly looked: number;
}

/** Most kinds of drive that are paired with each other, and most groups that are kept: about a second's work. */
const [mostKinds, mostGroups] = [1000, 2000];

/** The swaps of a shelf, save those of pairs of which a decided swap says all there is to compare. */
export function trialGroups(shelf: TrialShelf, decided: readonly DecidedSwap[], snapshot: Snapshot): TrialGroups {
  const kinds = foremostKinds(kindsOf(shelf, snapshot));
  const tried = triedByCode(decided);
  const untried = pairedKinds(kinds).flatMap(
    (group) => untriedOf(group, { kinds, tried: tried.get(group.code) ?? [] }, snapshot) ?? [],
  );
  return {
    groups: untried.sort((a, b) => b.swaps - a.swaps).slice(0, mostGroups),
    all: untried.length,
    looked: kinds.reduce((sum, { sides }) => sum + sides.length, 0),
  };
}

/** Drives of which every condition says the same on either side, and what may be done about their ROM as patients. */
interface Kind {
  readonly sides: [Side, ...Side[]];
  readonly roms: readonly RomChoice[];
}

/** Something to do about the ROM, with whether the patient's adaptives come along. */
interface RomChoice {
  readonly plan: Pick<RomPlan, 'actions'>;
  readonly travels: Truth;
}

function kindsOf({ patients, donors }: TrialShelf, snapshot: Snapshot): readonly Kind[] {
  const asPatients = new Set(patients);
  const kinds = new Map<string, Kind>();
  for (const side of donors) {
    const roms = asPatients.has(side) ? romChoices(side, snapshot) : [];
    const name = JSON.stringify([comparableKeys.map((key) => cellName(side, key)), roms]);
    const known = kinds.get(name);
    if (known) known.sides.push(side);
    else kinds.set(name, { sides: [side], roms });
  }
  return [...kinds.values()];
}

function foremostKinds(kinds: readonly Kind[]): readonly Kind[] {
  if (kinds.length <= mostKinds) return kinds;
  return [...kinds].sort((a, b) => b.sides.length - a.sides.length).slice(0, mostKinds);
}

/** Moved along and left as it is, where that makes a difference that is known. */
function romChoices(patient: Side, snapshot: Snapshot): readonly RomChoice[] {
  const plans = [romPlanFor(patient), { actions: ['left'] }] as const;
  const choices = plans.map(
    (plan): RomChoice => ({
      plan: { actions: plan.actions },
      travels: romTravels(plannedSwap(patient, patient.drive, plan, snapshot)),
    }),
  );
  const known = [true, false].flatMap((truth) => choices.find(({ travels }) => travels === truth) ?? []);
  return known.length > 0 ? known : choices.slice(1);
}

/** A text that is equal for sides that hold the same of a key. */
function cellName(side: Side, key: ComparableKey): string {
  const cell = cellOf(side, key);
  if (cell.state === 'open') return JSON.stringify(['open', cell.within]);
  return JSON.stringify([typeof cell.value === 'string' ? foldText(cell.value) : cell.value]);
}

interface Group {
  /** What all comparisons and the ROM say, see `codeOf`. */
  readonly code: number;
  swaps: number;
  /** The kinds it is made of, see `makingOf`. */
  readonly makings: number[];
}

/** Every kind as patients with every kind as donors. A shelf has millions of such pairs, so the inner loop looks up and adds only. */
function pairedKinds(kinds: readonly Kind[]): readonly Group[] {
  const tables = comparableKeys.map((key, position) => keyTable(key, kinds, 3 ** (comparableKeys.length - position)));
  const boards = numbered(
    kinds.map(({ sides: [side] }) => JSON.stringify(boardKeys.map((key) => cellName(side, key)))),
  );
  const boardCount = Math.max(0, ...boards) + 1;
  const groups = new Map<number, Group>();
  for (const [p, patients] of kinds.entries()) {
    for (const [r, { travels }] of patients.roms.entries()) {
      for (const [d, donors] of kinds.entries()) {
        const swaps = patients.sides.length * (donors.sides.length - (p === d ? 1 : 0));
        if (swaps === 0) continue;
        let code = digitOf(travels);
        for (const { classes, digits, count } of tables)
          code += digits[(classes[p] ?? 0) * count + (classes[d] ?? 0)] ?? 0;
        const name = (code * boardCount + (boards[p] ?? 0)) * boardCount + (boards[d] ?? 0);
        const making = (p * kinds.length + d) * mostRoms + r;
        const group = groups.get(name);
        if (group) {
          group.swaps += swaps;
          group.makings.push(making);
        } else groups.set(name, { code, swaps, makings: [making] });
      }
    }
  }
  return [...groups.values()];
}

/** Most ways to treat the ROM. */
const mostRoms = 2;

/** What a number among the makings of a group stands for. */
function makingOf(making: number, kinds: readonly Kind[]): { patients: Kind; donors: Kind; plan: RomChoice['plan'] } {
  const pair = Math.floor(making / mostRoms);
  const [patients, donors] = [kinds[Math.floor(pair / kinds.length)], kinds[pair % kinds.length]];
  const plan = patients?.roms[making % mostRoms]?.plan;
  if (!patients || !donors || !plan) throw new RangeError(`${making} stands for no two kinds of drive`);
  return { patients, donors, plan };
}

/** The keys of which conditions may name a value. */
const boardKeys = ['board', 'rev', ...revisionKeys] as const;

/** What a comparison of a key says of every two kinds, as what it adds to a code. */
interface KeyTable {
  /** Kinds of one number hold the same. */
  readonly classes: readonly number[];
  readonly count: number;
  /** By the number of the patient's kind times `count` and that of the donor's. */
  readonly digits: Float64Array;
}

function keyTable(key: ComparableKey, kinds: readonly Kind[], weight: number): KeyTable {
  // A revision is the same on the same board only.
  const names = kinds.map(({ sides: [side] }) => cellName(side, key) + (key === 'rev' ? cellName(side, 'board') : ''));
  const classes = numbered(names);
  const firsts = [...new Map(classes.map((number, n) => [number, kinds[n]?.sides[0]] as const).reverse())]
    .sort(([a], [b]) => a - b)
    .flatMap(([, side]) => side ?? []);
  const count = firsts.length;
  const digits = Float64Array.from({ length: count * count }, (_, position) => {
    const [patient, donor] = [firsts[Math.floor(position / count)], firsts[position % count]];
    return patient && donor ? weight * digitOf(isSame(key, { patient, donor })) : 0;
  });
  return { classes, count, digits };
}

/** Equal names by equal numbers, from 0 on. */
function numbered(names: readonly string[]): readonly number[] {
  const numbers = new Map<string, number>();
  return names.map((name) => {
    const number = numbers.get(name) ?? numbers.size;
    numbers.set(name, number);
    return number;
  });
}

function isSame(key: ComparableKey, sides: Pick<Swap, 'patient' | 'donor'>): Truth {
  return evaluateAtom({ test: 'same', key }, { ...sides, outcome: noOutcome });
}

const noOutcome: Swap['outcome'] = { kind: 'outcome', id: '', data: {}, unusable: [] };

/** What all comparisons and the ROM say of a swap, as a number: the same for a pair whichever way round. */
function codeOf(swap: Swap): number {
  return 3 * comparableKeys.reduce((sum, key) => 3 * sum + digitOf(isSame(key, swap)), 0) + digitOf(romTravels(swap));
}

function digitOf(truth: Truth): number {
  return truth === undefined ? 0 : truth ? 1 : 2;
}

/** Two drives, by id. */
type Pair = readonly [string, string];

/** The pairs that were tried, each once, by what all comparisons and the ROM say of them. */
function triedByCode(decided: readonly DecidedSwap[]): ReadonlyMap<number, readonly Pair[]> {
  const tried = new Map<number, Map<string, Pair>>();
  for (const { pair, swap } of decided) {
    const code = codeOf(swap);
    const pairs = tried.get(code) ?? new Map<string, Pair>();
    tried.set(code, pairs.set(pair, [swap.patient.drive.id, swap.donor.drive.id]));
  }
  return new Map([...tried].map(([code, pairs]) => [code, [...pairs.values()]]));
}

/** The group without pairs that were tried; undefined where nothing is left. */
function untriedOf(
  group: Group,
  { kinds, tried }: { readonly kinds: readonly Kind[]; readonly tried: readonly Pair[] },
  snapshot: Snapshot,
): TrialGroup | undefined {
  const names = new Set(tried.map(([a, b]) => pairName(a, b)));
  const done = names.size === 0 ? 0 : group.makings.reduce((sum, one) => sum + countIn(makingOf(one, kinds), tried), 0);
  for (const making of group.swaps === done ? [] : group.makings) {
    const { patients, donors, plan } = makingOf(making, kinds);
    for (const patient of patients.sides) {
      for (const { drive: donor } of donors.sides) {
        const pair = pairName(patient.drive.id, donor.id);
        if (patient.drive === donor || names.has(pair)) continue;
        return { swap: plannedSwap(patient, donor, plan, snapshot), pair, swaps: group.swaps - done };
      }
    }
  }
  return undefined;
}

/** How many of some pairs, either way round, have their patient and their donor in these kinds. */
function countIn({ patients, donors }: { patients: Kind; donors: Kind }, pairs: readonly Pair[]): number {
  const isIn = (id: string, { sides }: Kind): boolean => sides.some(({ drive }) => drive.id === id);
  const ways = pairs.flatMap(([a, b]) => [[a, b] as const, [b, a] as const]);
  return ways.filter(([p, d]) => isIn(p, patients) && isIn(d, donors)).length;
}
