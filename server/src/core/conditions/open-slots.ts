/**
 * The unrecorded values an atom depends on.
 * Laws (test/property/open-slots.property.test.ts):
 * - learning a value that is none of its open slots leaves an atom as it was
 * - an open slot of an atom holds no value
 */
import { type Cell, cellOf, familyCellOf, hoursCellOf, type Slot } from './cell.ts';
import type { Atom } from './formula.ts';
import type { Side, Swap } from './swap.ts';

/** The slots without a value that an atom looks at on a swap, each once. A slot whose value cannot matter may be among them. */
export function openSlotsOf(atom: Atom, swap: Swap): readonly Slot[] {
  const { patient, donor } = swap;
  switch (atom.test) {
    case 'same':
      return [...sideSlots(patient, atom.key), ...sideSlots(donor, atom.key)];
    case 'drop_in':
      return [...sideSlots(patient, 'rev'), ...sideSlots(donor, 'rev')];
    case 'rom_travels':
      return [...romSlots(swap), ...openIn(familyCellOf(swap, 'adaptives'))];
    case 'made_within':
      return [...madeSlots(patient), ...madeSlots(donor)];
    case 'family':
      return openIn(familyCellOf(swap, atom.key));
    case 'side':
      if (atom.key === 'made') return madeSlots(swap[atom.side]);
      return atom.key === 'power_on_hours'
        ? openIn(hoursCellOf(swap, atom.side))
        : sideSlots(swap[atom.side], atom.key);
  }
}

/** The slot of a drive's date of manufacture where none is recorded. */
export function madeSlots({ drive }: Side): readonly Slot[] {
  return drive.data.made === undefined ? [{ owner: { kind: 'drive', id: drive.id }, key: 'made' }] : [];
}

/** A revision is named by its board as well. */
function sideSlots(side: Side, key: Parameters<typeof cellOf>[1]): Slot[] {
  const keys = key === 'rev' ? (['board', 'rev'] as const) : [key];
  return keys.flatMap((one) => openIn(cellOf(side, one)));
}

/** `rom_from` says it all where it is recorded; where it is not, that is no gap. */
function romSlots({ outcome }: Swap): Slot[] {
  if (outcome.data.rom !== undefined || outcome.data.rom_from !== undefined) return [];
  return [{ owner: { kind: 'outcome', id: outcome.id }, key: 'rom' }];
}

function openIn(cell: Cell): Slot[] {
  return cell.state === 'open' ? [cell.slot] : [];
}
