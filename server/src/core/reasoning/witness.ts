import { comparableKeys } from '../../../../schemas/gen/key-table.ts';
import type { FamilyKey, Scalar, SideKey, SideName } from '../conditions/formula.ts';
import type { Layer } from '../index/memo.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type BoardRecord, isRetracted } from '../model/record.ts';
import type { Effort } from '../solver/effort.ts';
import { type Model, Solver } from '../solver/solver.ts';
import { all, atMost, type Constraint, type Flag, not, type Slot, type Value } from '../solver/terms.ts';
import { formatDate } from '../terms/calendar.ts';
import { foldText } from '../text/fold.ts';
import { isClaimNew, isRecorded, isRomRecorded, Knowledge } from './known-constraint.ts';
import { type Mentions, mentionsOf } from './mentions.ts';
import {
  type Background,
  backgroundConstraint,
  backgroundOf,
  claim,
  factSlot,
  makerSlot,
  partKeysIn,
  revisionsOf,
  sideSlot,
  travels,
} from './possible-swap.ts';
import type { Rule } from './rule.ts';

/** A swap that two rules do not agree on: what has to be recorded of it, and no more. */
export interface Witness {
  /**
   * Values by key, in the order of the key table; `rev` is written BOARD/REV. Names such as `new-1` stand for any that is not
   * recorded.
   */
  readonly patient: Readonly<Partial<Record<SideKey, Scalar>>>;
  readonly donor: Readonly<Partial<Record<SideKey, Scalar>>>;
  /** The patient's family; undefined where it may be any. */
  readonly family: string | undefined;
  /** What has to be recorded of that family besides. */
  readonly facts: Readonly<Partial<Record<FamilyKey, Scalar>>>;
  readonly maker: string | undefined;
  /** What was done about the ROM; undefined where it does not matter. */
  readonly rom: 'left' | 'chip_moved' | 'image_written' | undefined;
  /** Whether it rests on a claim that the donor's revision works in place of the patient's. */
  readonly dropIn: boolean;
}

/**
 * The smallest swap known to lie in both scopes, to meet the `enough` rule and to be one that the other rule calls impossible:
 * with the fewest values recorded; of these with keys, then values, that come first. It is made of what the rules name, of the
 * recorded boards of their families, of recorded families where the rules ask for facts of any, and of what nobody recorded; only
 * if none of these will do, of boards of other families. `unsat` where such a swap cannot be written down, because what would
 * have to stand in a record stands there and cannot be read.
 */
export function smallestWitness(
  enough: Rule,
  other: Rule,
  snapshot: Snapshot,
  effort: Effort,
): Witness | 'unsat' | 'undecided' {
  const mentions = mentionsOf([enough, other]);
  const { own, all: whole } = backgroundsOf(mentions, snapshot);
  const boards = new Set(whole.revisions.map(({ board }) => board));
  const inputs = [enough, other, ...whole.families, ...whole.retracted, ...boards];
  return snapshot.layers.of(witnessLayer).get(`${enough.record.id} ${other.record.id}`, inputs, () => {
    for (const background of [own, whole]) {
      const witness = witnessWithin([enough, other], mentions, background, effort);
      if (witness !== 'unsat') return witness;
    }
    return 'unsat';
  });
}

const witnessLayer: Layer<Witness | 'unsat' | 'undecided'> = { name: 'smallest witness' };

function witnessWithin(
  rules: readonly Rule[],
  mentions: Mentions,
  background: Background,
  effort: Effort,
): Witness | 'unsat' | 'undecided' {
  const knowledge = new Knowledge(background);
  const demands = all(
    knowledge.rules(mentions.facts),
    ...rules.flatMap((rule) => [knowledge.scope(rule), knowledge.condition(rule.when, rule.claim !== 'needs')]),
  );
  const flags = flagsIn(demands);
  const values = recordableValues(mentions).filter(({ isRecorded: { name } }) => flags.has(name));
  const model = smallestModel(all(backgroundConstraint(mentions, background), demands), values, effort);
  return typeof model === 'string' ? model : readWitness(model, mentions, background);
}

/** A value that may have to be recorded, with the slot that holds it. */
interface Recordable {
  readonly name: string;
  readonly isRecorded: Flag;
  readonly slot: Slot | undefined;
}

const sides: readonly SideName[] = ['patient', 'donor'];
const allKeys: readonly SideKey[] = [...comparableKeys, 'made', 'power_on_hours'];

/** Everything that a witness may have to record, in the order in which it is shown. */
function recordableValues(mentions: Mentions): Recordable[] {
  const ofSlot = (slot: Slot): Recordable => ({ name: slot.name, isRecorded: isRecorded(slot), slot });
  const needsBoard = partKeysIn(mentions).length > 0;
  const keys = allKeys.filter(
    (key) => key === 'family' || mentions.sideKeys.has(key) || (needsBoard && (key === 'board' || key === 'rev')),
  );
  return [
    ...keys.flatMap((key) => sides.map((side) => ofSlot(sideSlot(side, key)))),
    ...[...mentions.facts].map((key) => ofSlot(factSlot(key))),
    ofSlot(makerSlot),
    { name: 'rom', isRecorded: isRomRecorded, slot: undefined },
    { name: 'claim', isRecorded: isClaimNew, slot: undefined },
  ];
}

/**
 * The boards and families a witness may be made of: those the rules name with those of their families and makers; and besides
 * these boards of any family that can be had with different parts. All revisions of a board are there, so that none is taken for
 * a new one.
 */
function backgroundsOf(mentions: Mentions, snapshot: Snapshot): { readonly own: Background; readonly all: Background } {
  const { families: named, retracted, revisions } = backgroundOf(mentions, snapshot);
  const standing = snapshot.records('family').filter((family) => !isRetracted(family));
  const ofMakers = standing.filter(({ data }) => mentions.makers.has(data.maker ?? ''));
  const meant = named.length > 0 ? named : ofMakers;
  const ids = new Set(meant.map(({ id }) => id));
  // Rules about facts of any family are shown on a recorded one that has them.
  const isOpen = named.length === 0 && mentions.makers.size === 0 && mentions.facts.size > 0;
  const families = isOpen ? standing : meant;
  const isOwn = (board: BoardRecord): boolean =>
    mentions.boards.has(board.id) ||
    (!isRetracted(board) && (board.data.families ?? []).some((family) => ids.has(family)));
  const strange = new Set(revisions.map(({ board }) => board));
  const boards = snapshot.records('board');
  const made = (some: readonly BoardRecord[]): Background => ({
    families,
    retracted,
    revisions: some.flatMap(revisionsOf),
  });
  return {
    own: made(boards.filter(isOwn)),
    all: made(boards.filter((board) => isOwn(board) || strange.has(board))),
  };
}

/** A model of what is demanded in which the fewest values are recorded, of these the first. */
function smallestModel(
  demands: Constraint,
  values: readonly Recordable[],
  effort: Effort,
): Model | 'unsat' | 'undecided' {
  const start = new Solver(effort);
  start.require(demands);
  const first = start.solve();
  if (first.status !== 'sat') return first.status;
  const solver = solverWithCounts(demands, values, countRecorded(first.model, values), effort);
  const fixed = fewest(solver, countRecorded(first.model, values), values);
  if (!fixed) return 'undecided';
  for (const { name } of values) {
    const status = solver.statusOf([...fixed, `with ${name}`]);
    if (status === 'undecided') return 'undecided';
    fixed.push(`${status === 'sat' ? 'with' : 'without'} ${name}`);
  }
  const recorded = values.flatMap(({ name, slot }) => (slot && fixed.includes(`with ${name}`) ? [slot] : []));
  const answer = solver.first(fixed, recorded);
  return answer.status === 'sat' ? answer.model : 'undecided';
}

function solverWithCounts(demands: Constraint, values: readonly Recordable[], most: number, effort: Effort): Solver {
  const solver = new Solver(effort);
  solver.require(demands);
  for (const { name, isRecorded: flag } of values) {
    solver.suppose(`with ${name}`, flag);
    solver.suppose(`without ${name}`, not(flag));
  }
  const flags = values.map((value) => value.isRecorded);
  for (let count = 0; count <= most; count++) solver.suppose(`at most ${count}`, atMost(count, flags));
  return solver;
}

/**
 * The assumption that as few values are recorded as can be, of a number that is known to do; undefined where the effort does not
 * suffice.
 */
function fewest(solver: Solver, known: number, values: readonly Recordable[]): string[] | undefined {
  let count = known;
  while (count > 0) {
    const smaller = solver.solve([`at most ${count - 1}`]);
    if (smaller.status === 'undecided') return undefined;
    if (smaller.status === 'unsat') break;
    count = countRecorded(smaller.model, values);
  }
  return [`at most ${count}`];
}

function flagsIn(constraint: Constraint, found = new Set<string>()): Set<string> {
  if (constraint.op === 'flag') found.add(constraint.name);
  else if (constraint.op === 'not') flagsIn(constraint.part, found);
  else if ('parts' in constraint) for (const part of constraint.parts) flagsIn(part, found);
  return found;
}

function isSet({ flags }: Model, { isRecorded: recorded }: Pick<Recordable, 'isRecorded'>): boolean {
  return flags.get(recorded.name) === true;
}

function countRecorded(model: Model, values: readonly Recordable[]): number {
  return values.filter((value) => isSet(model, value)).length;
}

function readWitness(model: Model, mentions: Mentions, background: Background): Witness {
  const reader = new WitnessReader(model, spellings(mentions, background));
  const family = reader.valueOf(sideSlot('patient', 'family'));
  const record = background.families.find(({ id }) => id === family);
  const place = reader.valueOf(factSlot('adaptives')) ?? record?.data.adaptives?.stored_in;
  const facts = [...mentions.facts].flatMap((key) => {
    const value = reader.valueOf(factSlot(key));
    return value === undefined ? [] : [[key, value] as const];
  });
  const maker = reader.valueOf(makerSlot);
  const { family: _, ...patient } = reader.side('patient');
  return {
    patient,
    donor: reader.side('donor'),
    family: family === undefined ? undefined : String(family),
    facts: Object.fromEntries(facts),
    maker: maker === undefined ? undefined : String(maker),
    rom: reader.rom(place),
    dropIn: mentions.comparesRevisions && reader.isDropIn(background),
  };
}

/** Each text as it is typed, by its folded form: in the rules, else in the records. */
function spellings(mentions: Mentions, { revisions }: Background): ReadonlyMap<string, string> {
  const typed = revisions.flatMap(({ data }) => [data.rev, data.controller, data.motor_driver].flat());
  const recorded = typed.flatMap((text): [string, string][] => (text === undefined ? [] : [[foldText(text), text]]));
  return new Map([...recorded, ...mentions.spelling]);
}

class WitnessReader {
  constructor(
    private readonly model: Model,
    private readonly spelling: ReadonlyMap<string, string>,
  ) {}

  /** The value of a slot as it is typed; undefined where it need not be recorded. */
  valueOf(slot: Slot): Scalar | undefined {
    const value = isSet(this.model, { isRecorded: isRecorded(slot) }) ? this.model.values.get(slot.name) : undefined;
    if (value === undefined) return undefined;
    return slot.sort.holds === 'days' ? formatDate(Number(value)) : this.typed(value);
  }

  side(side: SideName): Partial<Record<SideKey, Scalar>> {
    const entries = allKeys.flatMap((key): [SideKey, Scalar][] => {
      const value = this.valueOf(sideSlot(side, key));
      if (value === undefined) return [];
      const board = this.valueOf(sideSlot(side, 'board'));
      if (key === 'board' && this.valueOf(sideSlot(side, 'rev')) !== undefined) return [];
      return [[key, key === 'rev' ? `${board}/${value}` : value]];
    });
    return Object.fromEntries(entries);
  }

  rom(place: Scalar | undefined): Witness['rom'] {
    if (!isSet(this.model, { isRecorded: isRomRecorded })) return undefined;
    if (this.model.flags.get(travels.name) !== true) return 'left';
    return place === 'rom_chip' ? 'chip_moved' : 'image_written';
  }

  isDropIn(background: Background): boolean {
    const at = (side: SideName, key: SideKey): Scalar | undefined => this.valueOf(sideSlot(side, key));
    if (at('patient', 'board') !== at('donor', 'board') || at('patient', 'rev') === at('donor', 'rev')) return false;
    if (at('patient', 'rev') === undefined || at('donor', 'rev') === undefined) return false;
    if (this.model.flags.get(claim.name) !== true) return false;
    const isOld = background.revisions.some(
      ({ board, name }) => board.id === at('donor', 'board') && name === foldText(String(at('donor', 'rev'))),
    );
    return isOld || isSet(this.model, { isRecorded: isClaimNew });
  }

  private typed(value: Value): Scalar {
    return typeof value === 'string' ? (this.spelling.get(value) ?? value) : value;
  }
}
