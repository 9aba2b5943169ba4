import { hasUnusable, type OutcomeRecord } from '../model/record.ts';
import type { Swap } from './swap.ts';
import { orAny, type Truth } from './truth.ts';

/** What was done about the ROM, as an outcome records it. */
export type RomAction = 'left' | 'chip_moved' | 'image_written' | 'controller_moved' | 'not_fitted';

/** What an outcome records of the ROM, step by step; undefined where it does not say. */
export function romActionsOf({ data: { rom } }: OutcomeRecord): readonly RomAction[] | undefined {
  return typeof rom === 'string' ? [rom] : rom;
}

/** Where a family may keep its adaptives. */
export type StoredIn = 'rom_chip' | 'controller' | 'platters';

/**
 * Whether the patient's adaptives came along, for each place where a family may store them. Undefined: not known.
 * Source: common practice, no source.
 */
const travelsBy: Readonly<Record<Exclude<StoredIn, 'platters'>, Readonly<Record<RomAction, Truth>>>> = {
  rom_chip: { left: false, chip_moved: true, image_written: true, controller_moved: false, not_fitted: undefined },
  controller: { left: false, chip_moved: false, image_written: true, controller_moved: true, not_fitted: false },
};

/** Whether the patient's own adaptives worked with its platters in this swap. */
export function romTravels(swap: Swap): Truth {
  const storedIn = swap.patient.family?.data.adaptives?.stored_in;
  if (storedIn !== undefined) return travelsWhere(swap, storedIn);
  // Not known where they are stored: decided only if every place would say the same.
  const choices = (['rom_chip', 'controller', 'platters'] as const).map((place) => travelsWhere(swap, place));
  const [first] = choices;
  return choices.every((choice) => choice === first) ? first : undefined;
}

/** The same for a family that keeps them in one place. */
export function travelsWhere({ outcome, patient }: Swap, storedIn: StoredIn): Truth {
  if (storedIn === 'platters') return true;
  const { rom_from: romFrom } = outcome.data;
  if (romFrom !== undefined) return romFrom === patient.drive.id;
  const actions = romActionsOf(outcome);
  if (!actions || hasUnusable(outcome, 'rom_from')) return undefined;
  return orAny(actions.map((action) => travelsBy[storedIn][action]));
}
