/**
 * Any swap there could be, recorded or not: its keys are slots, and all that limits them is what the base records of families and
 * revisions. Boards, drives and families that nobody recorded may exist, and so may revisions of recorded boards.
 */
import { partOfRevision, type RevisionKey, revisionKeys } from '../conditions/cell.ts';
import { dropInClosure } from '../conditions/evaluate.ts';
import type { FamilyKey, SideKey, SideName } from '../conditions/formula.ts';
import type { RevisionData } from '../conditions/swap.ts';
import type { Layer } from '../index/memo.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type BoardRecord, type FamilyRecord, hasUnusable, isRetracted } from '../model/record.ts';
import type { SwapTerms } from '../solver/condition-constraint.ts';
import { sortOfFamily, sortOfSide, toValue } from '../solver/sorts.ts';
import {
  all,
  any,
  type Constraint,
  equal,
  type Flag,
  flag,
  implies,
  isIn,
  known,
  not,
  type Slot,
  slot,
} from '../solver/terms.ts';
import { foldText } from '../text/fold.ts';
import type { Mentions } from './mentions.ts';

/** A recorded revision with its board. */
export interface Revision {
  readonly board: BoardRecord;
  readonly data: RevisionData;
  /** Its name, folded. */
  readonly name: string;
}

/** The recorded things that limit which swaps are possible. */
export interface Background {
  readonly families: readonly FamilyRecord[];
  /** Boards whose claims count for nothing, those of revisions nobody recorded included. */
  readonly retracted: readonly BoardRecord[];
  readonly revisions: readonly Revision[];
}

/** The slot of a key of one side. */
export function sideSlot(side: SideName, key: SideKey): Slot {
  return slot(`${side} ${key}`, sortOfSide(key));
}

/** The slot of a fact about the patient's family. */
export function factSlot(key: FamilyKey): Slot {
  return slot(`family ${key}`, sortOfFamily(key));
}

/** The slot of the maker of the patient's family. */
export const makerSlot: Slot = slot('family maker', { name: 'maker', holds: 'texts' });

/** That the donor's revision is claimed to work in place of the patient's. */
export const claim: Flag = flag('claimed');

/** That the patient's adaptives came along. */
export const travels: Flag = flag('rom travels');

/** The terms of any possible swap. */
export const possibleTerms: SwapTerms = {
  side: sideSlot,
  family: factSlot,
  romTravels: travels,
  isClaimed: claim,
};

/** That a side has a board of this recorded revision. */
export function isAt(side: SideName, { board, name }: Revision): Constraint {
  return all(equal(sideSlot(side, 'board'), known(board.id)), equal(sideSlot(side, 'rev'), known(name)));
}

/** The records that decide whether swaps exist that rules which speak of these things would tell apart. */
export function backgroundOf(mentions: Mentions, snapshot: Snapshot): Background {
  return {
    families: [...mentions.families].flatMap((id) => snapshot.find('family', id) ?? []),
    retracted: [...mentions.boards].flatMap((id) => snapshot.find('board', id) ?? []).filter(isRetracted),
    revisions: [...namedRevisions(mentions, snapshot), ...revisionsWithAlternatives(mentions, snapshot)],
  };
}

/** Everything that limits the slots of a possible swap, as far as rules that speak of these things can tell. */
export function backgroundConstraint(mentions: Mentions, background: Background): Constraint {
  const { families, retracted, revisions } = background;
  const parts = partKeysIn(mentions);
  return all(
    ...families.map((family) => familyConstraint(family, mentions)),
    ...(mentions.facts.has('adaptives') ? [any(not(storedOnPlatters), travels)] : []),
    ...revisions.flatMap((revision) =>
      (['patient', 'donor'] as const).map((side) =>
        implies(isAt(side, revision), partsConstraint(side, revision, parts)),
      ),
    ),
    ...parts.map((key) => sharedPart(key, revisions)),
    ...(mentions.comparesRevisions ? [...revisions.map(claimConstraint), ...retracted.map(noNewClaim)] : []),
  );
}

const storedOnPlatters = equal(factSlot('adaptives'), known('platters'));

/** The parts these rules speak of that a board has by its revision. */
export function partKeysIn(mentions: Mentions): RevisionKey[] {
  return revisionKeys.filter((key) => mentions.sideKeys.has(key));
}

/** A fact that a family records; undefined where it does not, or not readably. */
export function factOf(family: FamilyRecord, key: FamilyKey): string | number | undefined {
  return key === 'adaptives' ? family.data.adaptives?.stored_in : family.data[key];
}

function familyConstraint(family: FamilyRecord, mentions: Mentions): Constraint {
  const facts = [...mentions.facts].flatMap((key) => {
    const value = factOf(family, key);
    return value === undefined ? [] : [equal(factSlot(key), known(toValue(value)))];
  });
  const { maker } = family.data;
  if (mentions.makers.size > 0 && maker !== undefined) facts.push(equal(makerSlot, known(maker)));
  return implies(equal(sideSlot('patient', 'family'), known(family.id)), all(...facts));
}

function partsConstraint(side: SideName, { data }: Revision, parts: readonly RevisionKey[]): Constraint {
  return all(
    ...parts.flatMap((key) => {
      const choices = partOfRevision(data, key);
      return choices ? [isIn(sideSlot(side, key), { anyOf: choices.map(toValue) })] : [];
    }),
  );
}

/** Boards of one revision share their parts, unless the revision lists alternatives. */
function sharedPart(key: RevisionKey, revisions: readonly Revision[]): Constraint {
  const exempt = revisions.filter(({ data }) => hasAlternatives(data, key));
  const isOneRevision = all(
    equal(sideSlot('patient', 'board'), sideSlot('donor', 'board')),
    equal(sideSlot('patient', 'rev'), sideSlot('donor', 'rev')),
  );
  return any(
    not(isOneRevision),
    equal(sideSlot('patient', key), sideSlot('donor', key)),
    ...exempt.map((revision) => isAt('patient', revision)),
  );
}

function hasAlternatives(data: RevisionData, key: RevisionKey): boolean {
  return (partOfRevision(data, key)?.length ?? 0) > 1;
}

/**
 * What the board of a recorded revision claims for it; nothing where it is retracted, anything besides where it is not readable.
 */
function claimConstraint(revision: Revision): Constraint {
  const { board } = revision;
  const claimed = isRetracted(board) ? [] : [...dropInClosure(board, revision.name)];
  const isListed = isIn(sideSlot('patient', 'rev'), { anyOf: claimed });
  const isOfBoard = equal(sideSlot('patient', 'board'), known(board.id));
  return implies(
    all(isAt('donor', revision), isOfBoard),
    hasUnusable(board, 'revisions')
      ? implies(isListed, claim)
      : all(implies(isListed, claim), implies(claim, isListed)),
  );
}

/** A retracted board claims nothing for any revision but itself. */
function noNewClaim(board: BoardRecord): Constraint {
  const isSameRevision = equal(sideSlot('patient', 'rev'), sideSlot('donor', 'rev'));
  return any(not(equal(sideSlot('donor', 'board'), known(board.id))), isSameRevision, not(claim));
}

/** Recorded revisions that rules name, and those they claim to work in place of. */
function namedRevisions(mentions: Mentions, snapshot: Snapshot): Revision[] {
  const ofBoards = [...mentions.boards].flatMap((id) => revisionsOf(snapshot.find('board', id)));
  const named = ofBoards.filter(({ board, name }) => mentions.revisions.has(`${board.id}/${name}`));
  const reached = new Set(
    named.flatMap(({ board, name }) => [...dropInClosure(board, name)].map((other) => `${board.id}/${other}`)),
  );
  return ofBoards.filter(({ board, name }) => reached.has(`${board.id}/${name}`));
}

/** The revisions a board records, each name once. */
export function revisionsOf(board: BoardRecord | undefined): Revision[] {
  if (!board) return [];
  const byName = new Map<string, Revision>();
  for (const data of board.data.revisions ?? []) {
    const name = data.rev === undefined ? undefined : foldText(data.rev);
    if (name !== undefined && !byName.has(name)) byName.set(name, { board, data, name });
  }
  return [...byName.values()];
}

const alternativesLayer: Layer<readonly Revision[]> = { name: 'revisions with alternatives' };

/** The recorded revisions that list alternatives for a part, by board and as the board lists them. */
function allWithAlternatives(snapshot: Snapshot): readonly Revision[] {
  const boards = snapshot.records('board');
  return snapshot.layers
    .of(alternativesLayer)
    .get('', boards, () =>
      boards.flatMap((board) =>
        revisionsOf(board).filter(({ data }) => revisionKeys.some((key) => hasAlternatives(data, key))),
      ),
    );
}

/** One revision for each way in which those with alternatives differ in some parts. */
const distinctLayer: Layer<readonly Revision[]> = { name: 'distinct revisions with alternatives' };

/**
 * Recorded revisions with alternatives for a part: only on them can boards of one revision differ. Of those that differ in
 * nothing these rules could tell, the first.
 */
function revisionsWithAlternatives(mentions: Mentions, snapshot: Snapshot): readonly Revision[] {
  const parts = partKeysIn(mentions);
  if (!mentions.comparesRevisions || !parts.some((key) => key === 'controller' || key === 'motor_driver')) return [];
  const every = allWithAlternatives(snapshot);
  const names = [...parts, ...mentions.boards].join(' ');
  const distinct = snapshot.layers.of(distinctLayer).get(names, [every], () => {
    const found = new Map<string, Revision>();
    for (const revision of every) {
      const { board, data } = revision;
      if (!parts.some((key) => hasAlternatives(data, key))) continue;
      const choices = parts.map((key) => partOfRevision(data, key)?.map(toValue));
      const profile = JSON.stringify([mentions.boards.has(board.id) ? `${board.id}/${revision.name}` : '', choices]);
      if (!found.has(profile)) found.set(profile, revision);
    }
    return [...found.values()];
  });
  return distinct.filter(({ board, name }) => !mentions.revisions.has(`${board.id}/${name}`));
}
