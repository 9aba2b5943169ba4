import type { RomAction, StoredIn } from '../conditions/rom-travels.ts';
import type { Side } from '../conditions/swap.ts';
import { hasUnusable } from '../model/record.ts';

/** Where the key sits that the data is encrypted with. */
interface EncryptionKey {
  /** Undefined: not recorded. */
  readonly in: 'controller' | 'bridge' | 'rom_chip' | 'platters' | undefined;
  /** Whether the data is known to be encrypted; otherwise it may be. */
  readonly isCertain: boolean;
}

/** What has to travel from the patient's own board, and what a swap would record if it did. */
export interface RomPlan {
  /** Undefined: not recorded, so what has to travel is not known. */
  readonly storedIn: StoredIn | undefined;
  /** Undefined where nothing is encrypted. */
  readonly key: EncryptionKey | undefined;
  /** As an outcome would record it; undefined where nobody can tell what is to be done. */
  readonly actions: readonly RomAction[] | undefined;
}

const holders = { rom_chip: 'chip_moved', controller: 'controller_moved' } as const;

/** The plan for a patient: adaptives and key go with it, from wherever its family keeps them. */
export function romPlanFor(patient: Side): RomPlan {
  const storedIn = patient.family?.data.adaptives?.stored_in;
  const key = keyOf(patient);
  const places = [storedIn, key?.in].filter((place) => place === 'rom_chip' || place === 'controller');
  const moves = [...new Set(places)].map((place) => holders[place]);
  return { storedIn, key, actions: moves.length > 0 ? possible(moves, patient) : storedIn && ['left'] };
}

/** From a board that is not there nothing can be moved; an image that was kept can still be written. */
function possible(moves: readonly RomAction[], { drive: { data } }: Side): readonly RomAction[] | undefined {
  if (data.parts !== 'hda_only') return moves;
  return data.rom_image ? ['image_written'] : undefined;
}

/** Where a family's encryption is not recorded, nothing is said of it unless the drive itself is known to be encrypted. */
function keyOf({ drive, family }: Side): EncryptionKey | undefined {
  const { encryption, key_in: place } = family?.data ?? {};
  const { encrypted } = drive.data;
  if (encryption === 'none' || (encryption !== 'always' && encrypted === false)) return undefined;
  if (encryption === undefined && encrypted === undefined && !hasUnusable(drive, 'encrypted')) return undefined;
  return { in: place, isCertain: encryption === 'always' || encrypted === true };
}
