import type { ComparableKey } from '../../../../schemas/gen/key-table.ts';
import { type AnyRecord, hasUnusable } from '../model/record.ts';
import { romWithAdaptives } from '../rom-images/rom-with-adaptives.ts';
import type { Path } from '../syntax/tape.ts';
import { foldText } from '../text/fold.ts';
import type { FamilyKey, SideKey, SideName } from './formula.ts';
import type { RevisionData, Side, Swap } from './swap.ts';

/** Who an unrecorded value belongs to: two slots with one owner and key hold one value. */
type SlotOwner =
  | { readonly kind: 'drive' | 'family' | 'outcome'; readonly id: string }
  | { readonly kind: 'revision'; readonly board: string; readonly rev: string };

/** An unrecorded value. */
export interface Slot {
  readonly owner: SlotOwner;
  readonly key: string;
}

/** Where a value was read: a record and the path inside it. */
interface Source {
  readonly record: AnyRecord;
  readonly path: Path;
}

/** What a key of one side of a swap holds: a value, or a slot that is open, perhaps within a list of alternatives. */
export type Cell =
  | { readonly state: 'known'; readonly value: string | number | boolean; readonly source: Source }
  | { readonly state: 'open'; readonly slot: Slot; readonly within: readonly string[] | undefined };

/**
 * The cell of a comparable key on one side. This is the one place that says who owns an unrecorded value: the drive, or the
 * revision for the parts that boards of one revision share.
 */
export function cellOf(side: Side, key: ComparableKey): Cell {
  switch (key) {
    case 'board':
      return ownCell(side, ['board', 'id'], 'board');
    case 'rev':
      return ownCell(side, ['board', 'rev'], 'rev');
    case 'sticker':
      return ownCell(side, ['board', 'sticker'], 'sticker');
    case 'controller':
    case 'motor_driver': {
      const own = ownCell(side, ['board', key], key);
      // A marking that stands on the drive but cannot be read is the drive's own, whatever the revision says.
      return own.state === 'known' || hasUnusable(side.drive, 'board', key) ? own : revisionCell(side, key);
    }
    case 'contact_pads':
    case 'rom_package':
      return revisionCell(side, key);
    default:
      return ownCell(side, [key], key);
  }
}

/** The cell of the power-on hours that one side reported before the swap; the drive's own value never stands in for it. */
export function hoursCellOf(swap: Swap, side: SideName): Cell {
  const column = `${side}_before` as const;
  const rows = swap.outcome.data.identity ?? [];
  const position = rows.findIndex((row) => row.value === 'power_on_hours' && row[column] !== undefined);
  const value = rows[position]?.[column];
  if (value !== undefined) return known(value, swap.outcome, ['identity', position, column]);
  return open({ owner: { kind: 'outcome', id: swap.outcome.id }, key: `power_on_hours.${column}` });
}

/** The cell of a fact about the patient's family. */
export function familyCellOf(swap: Swap, key: FamilyKey): Cell {
  const { family, drive } = swap.patient;
  const owner: SlotOwner = { kind: 'family', id: drive.data.family ?? '' };
  const value = key === 'adaptives' ? family?.data.adaptives?.stored_in : family?.data[key];
  if (!family || value === undefined) return open({ owner, key });
  return known(value, family, key === 'adaptives' ? ['adaptives', 'stored_in'] : [key]);
}

function known(value: string | number | boolean, record: AnyRecord, path: Path): Cell {
  return { state: 'known', value, source: { record, path } };
}

function open(slot: Slot, within?: readonly string[]): Cell {
  return { state: 'open', slot, within };
}

function ownCell(side: Side, path: Path, key: ComparableKey): Cell {
  let value: unknown = side.drive.data;
  // Shelves are compared cell by cell, so nothing is made here that is not kept.
  for (const step of path) value = (value as Readonly<Record<string, unknown>> | undefined)?.[step];
  if (typeof value === 'string' || typeof value === 'number') return known(value, side.drive, path);
  return open({ owner: { kind: 'drive', id: side.drive.id }, key });
}

/** The comparable keys whose value a board has by its revision. */
export const revisionKeys = ['controller', 'motor_driver', 'contact_pads', 'rom_package'] as const;

/** A part that boards of one revision share. */
export type RevisionKey = (typeof revisionKeys)[number];

/** Whether a key names such a part. */
export function isRevisionKey(key: SideKey): key is RevisionKey {
  return (revisionKeys as readonly SideKey[]).includes(key);
}

function revisionCell(side: Side, key: RevisionKey): Cell {
  const { board, revision, drive } = side;
  const driveSlot: Slot = { owner: { kind: 'drive', id: drive.id }, key };
  if (!board || revision?.rev === undefined) return open(driveSlot);
  const position = board.data.revisions?.indexOf(revision) ?? 0;
  const path: Path = ['revisions', position, key === 'rom_package' ? 'roms' : key];
  const choices = partOfRevision(revision, key);
  if (choices) {
    const [only, ...others] = choices;
    const isSingle = only !== undefined && others.length === 0;
    return isSingle ? known(only, board, path) : open(driveSlot, choices.map(String));
  }
  return open({ owner: { kind: 'revision', board: board.id, rev: foldText(revision.rev) }, key });
}

/** What a recorded revision says of a part: its value, the alternatives met under it, or nothing. */
export function partOfRevision(revision: RevisionData, key: RevisionKey): readonly (string | number)[] | undefined {
  const value = key === 'rom_package' ? packageOf(revision) : revision[key];
  if (Array.isArray(value)) return distinct(value);
  return typeof value === 'string' || typeof value === 'number' ? [value] : undefined;
}

/** `other` says nothing two boards could share. */
function packageOf(revision: RevisionData): string | undefined {
  const rom = romWithAdaptives(revision.roms);
  return rom?.package === 'other' ? undefined : rom?.package;
}

function distinct(values: readonly string[]): string[] {
  return [...new Map(values.map((value) => [foldText(value), value])).values()];
}
