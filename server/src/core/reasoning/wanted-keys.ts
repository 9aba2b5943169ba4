import type { Slot } from '../conditions/cell.ts';
import { findRevision, type Side, type Swap } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, hasUnusable, nameOf } from '../model/record.ts';
import { findKeyRow, type KeyRow, keyNodes } from '../schema/key-rows.ts';
import type { Path } from '../syntax/tape.ts';
import type { Missing } from '../verdicts/eligibility.ts';

/** A key or control somebody could still record. */
export interface WantedKey {
  /** `kind/id` of the record it belongs in. */
  readonly record: string;
  /** Revision of the board, where it belongs in one. */
  readonly rev?: string;
  /** As conditions name it, or the path in the outcome: `motor_driver`, `controls.donor_on_own_board`. */
  readonly key: string;
  /** What the schemas say of it; undefined where they say nothing. */
  readonly row: KeyRow | undefined;
}

/** A name that no other key has. */
export function nameOfKey({ record, rev = '', key }: WantedKey): string {
  return JSON.stringify([record, rev, key]);
}

/** Keys that fill a slot; none where it can only be read inside, from a host the patient no longer answers, or was reported as a fault. */
export function keysForSlot(slot: Slot, swap: Swap, snapshot: Snapshot): readonly WantedKey[] {
  const { owner, key } = slot;
  switch (owner.kind) {
    case 'drive':
      return driveKeys(owner.id === swap.patient.drive.id ? swap.patient : swap.donor, key);
    case 'revision': {
      const board = snapshot.find('board', owner.board);
      const rev = findRevision(board, owner.rev)?.rev;
      return board && rev !== undefined
        ? wanted({ record: board, key, path: ['revisions'], row: rowOf(key), rev })
        : [];
    }
    case 'family': {
      // Where not even the family is recorded, it is what is asked for.
      if (owner.id === '') return driveKeys(swap.patient, 'family');
      const family = snapshot.find('family', owner.id);
      const path = key === 'adaptives' ? ['adaptives', 'stored_in'] : [key];
      return family ? wanted({ record: family, key: path.join('.'), path, row: findKeyRow('family', path) }) : [];
    }
    case 'outcome':
      return key === 'rom' ? outcomeKey(swap, ['rom']) : hoursKeys(swap, key);
  }
}

/** Controls that would mend what an outcome lacks; undefined where nothing can, or where it was reported as a fault. */
export function keysForMissing(missing: Missing, swap: Swap): readonly WantedKey[] | undefined {
  const { controls } = swap.outcome.data;
  const keys = missingKeys(missing, swap);
  if (missing.what === 'donor_proof' && controls?.donor_on_own_board === 'fails') return undefined;
  return keys.length > 0 ? keys : undefined;
}

function missingKeys({ what, path }: Missing, swap: Swap): readonly WantedKey[] {
  const { outcome, donor } = swap;
  switch (what) {
    case 'donor_proof':
      return donor.drive.data.parts === 'board_only' ? [] : outcomeKey(swap, path);
    case 'patient_proof':
      return outcomeKey(swap, isDeadOrClicking(swap) ? ['controls', 'hda_proved_by'] : path);
    case 'rom_proof':
      return [...(outcome.data.rom === undefined ? outcomeKey(swap, ['rom']) : []), ...outcomeKey(swap, path)];
    case 'host_need':
      return outcomeKey(swap, path);
    case 'damage':
    case 'record':
      return [];
  }
}

/** Whether the patient gives no answer on its own board, or is not to be powered for one. */
function isDeadOrClicking({ outcome, patient }: Swap): boolean {
  const { controls, observed } = outcome.data;
  const own = controls?.patient_on_own_board;
  if (own === 'fails' || patient.drive.data.parts === 'hda_only') return true;
  if (own === 'works' || own === 'verified' || controls?.swapped_back === 'both_work') return false;
  const { condition } = patient.drive.data;
  const isNoisy = observed?.sound === 'clicking' || observed?.sound === 'grinding' || observed?.sound === 'beeping';
  return isNoisy || condition?.board === 'faulty' || condition?.media === 'failed';
}

const boardKeys: ReadonlySet<string> = new Set(['board', 'rev', 'sticker', 'controller', 'motor_driver']);

/** Keys of revisions only: a drive that shows none of its own has to name its revision first. */
const revisionOnly: ReadonlySet<string> = new Set(['contact_pads', 'rom_package']);

function driveKeys({ drive }: Side, key: string): readonly WantedKey[] {
  if (revisionOnly.has(key)) {
    const { id, rev } = drive.data.board ?? {};
    const unnamed = [...(id === undefined ? ['board'] : []), ...(rev === undefined ? ['rev'] : [])];
    return unnamed.flatMap((name) => driveKey(drive, name));
  }
  return driveKey(drive, key);
}

function driveKey(drive: Side['drive'], key: string): readonly WantedKey[] {
  const path = boardKeys.has(key) ? ['board', key === 'board' ? 'id' : key] : [key];
  return wanted({ record: drive, key, path, row: rowOf(key) });
}

/** Hours before the swap can be looked up only as long as the drive would still answer. */
function hoursKeys(swap: Swap, key: string): readonly WantedKey[] {
  const isDonorDead = swap.outcome.data.controls?.donor_on_own_board === 'fails';
  if (key === 'power_on_hours.donor_before' ? isDonorDead : isDeadOrClicking(swap)) return [];
  return wanted({ record: swap.outcome, key, path: ['identity'], row: rowOf('power_on_hours') });
}

function outcomeKey({ outcome }: Swap, path: Path): readonly WantedKey[] {
  // Entries of a list are asked for even where some stand there.
  return wanted({ record: outcome, key: path.join('.'), path, row: findKeyRow('outcome', path) });
}

interface Place {
  readonly record: AnyRecord;
  readonly key: string;
  readonly path: Path;
  readonly row: KeyRow | undefined;
  readonly rev?: string;
}

function wanted({ record, key, path, row, rev }: Place): readonly WantedKey[] {
  if (row?.readFrom === 'inside' || hasUnusable(record, ...path)) return [];
  return [{ record: nameOf(record), ...(rev === undefined ? {} : { rev }), key, row }];
}

/** What the schemas say of a comparable key, or of another that a condition may name of one side. */
function rowOf(key: string): KeyRow | undefined {
  return keyNodes['patientCondition']?.find((row) => row.name === key);
}
