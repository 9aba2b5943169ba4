import fc from 'fast-check';
import { swapOf } from '../../server/src/core/conditions/swap.ts';
import type { DecidedSwap } from '../../server/src/core/explanations/decided-swaps.ts';
import { pairName } from '../../server/src/core/verdicts/pair-name.ts';
import { snapshotOf } from './snapshot-of.ts';

/** A drive of one made-up family, written as its own lines. */
const arbitraryDrive = fc
  .tuple(
    fc.constantFrom('', 'firmware: F1\n', 'firmware: F2\n'),
    fc.constantFrom('', 'heads: 2\n', 'heads: 4\n'),
    fc.constantFrom('', 'site: X\n', 'site: Y\n'),
    fc.constantFrom('board: {id: k-10, rev: A}\n', 'board: {id: k-10, rev: B}\n', 'board: {id: k-11, rev: A}\n'),
  )
  .map((lines) => lines.join(''));

/** A swap of two of these drives, by number, what was done about the ROM, and whether it worked. */
const arbitrarySwap = fc
  .record({
    patient: fc.nat({ max: 5 }),
    donor: fc.nat({ max: 5 }),
    rom: fc.constantFrom('left', 'chip_moved', 'not_fitted'),
    works: fc.boolean(),
  })
  .filter(({ patient, donor }) => patient !== donor);

/** Decided swaps of a family that keeps its adaptives in a chip, by id; whether each worked is anybody's guess. */
export const arbitraryDecided: fc.Arbitrary<readonly DecidedSwap[]> = fc
  .tuple(
    fc.array(arbitraryDrive, { minLength: 6, maxLength: 6 }),
    fc.array(arbitrarySwap, { minLength: 1, maxLength: 12 }),
  )
  .map(([drives, swaps]) => decidedOf(drives, swaps));

/** Decided swaps of drives with these lines. */
export function decidedOf(
  drives: readonly string[],
  swaps: readonly {
    readonly patient: number;
    readonly donor: number;
    readonly rom: string;
    readonly works: boolean;
  }[],
): readonly DecidedSwap[] {
  const snapshot = snapshotOf({
    'family.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: rom_chip}\n',
    'drives.yaml': drives.map((lines, n) => `kind: drive\nid: d-${n}\nfamily: tern-2\n${lines}`).join('---\n'),
    'outcomes.yaml': swaps
      .map(
        ({ patient, donor, rom }, n) =>
          `kind: outcome\nid: o-${String(n).padStart(2, '0')}\ndate: 2026-03-14\npatient: d-${patient}\ndonor: d-${donor}\nrom: ${rom}\nreached: reads\nresult: works\n`,
      )
      .join('---\n'),
  });
  return snapshot.records('outcome').map((outcome, n): DecidedSwap => {
    const swap = swapOf(outcome, snapshot)!;
    const pair = pairName(swap.patient.drive.id, swap.donor.drive.id);
    return { outcome: outcome.id, swap, pair, works: swaps[n]!.works };
  });
}
