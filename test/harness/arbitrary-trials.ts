import fc from 'fast-check';
import { swapOf } from '../../server/src/core/conditions/swap.ts';
import type { DecidedSwap } from '../../server/src/core/explanations/decided-swaps.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { pairName } from '../../server/src/core/verdicts/pair-name.ts';
import { snapshotOf } from './snapshot-of.ts';

/** A family with drives to try swaps on, and swaps of them that were tried. */
export interface TrialBench {
  readonly snapshot: Snapshot;
  readonly decided: readonly DecidedSwap[];
}

const arbitraryLines = fc
  .tuple(
    fc.constantFrom('', 'firmware: F1\n', 'firmware: f1\n', 'firmware: F2\n'),
    fc.constantFrom('', 'preamp: P1\n', 'preamp: P2\n'),
    fc.constantFrom('site: X\n', 'site: Y\n'),
    fc.constantFrom('', 'board: {id: k-10, rev: A}\n', 'board: {id: k-10, rev: B}\n', 'board: {id: k-10, rev: C}\n'),
  )
  .map((lines) => lines.join(''));

/** Small benches: four to six sound spares of one family. */
export const arbitraryTrials: fc.Arbitrary<TrialBench> = fc
  .tuple(
    fc.array(arbitraryLines, { minLength: 4, maxLength: 6 }),
    fc.array(
      fc.record({
        patient: fc.nat(5),
        donor: fc.nat(5),
        rom: fc.constantFrom('left', 'chip_moved'),
        works: fc.boolean(),
      }),
      { maxLength: 7 },
    ),
  )
  .map(([drives, swaps]) => {
    const tried = swaps.filter(({ patient, donor }) => patient !== donor && Math.max(patient, donor) < drives.length);
    const snapshot = snapshotOf({
      'family.yaml': 'kind: family\nid: tern\nmaker: wren\nname: Tern\nadaptives: {stored_in: rom_chip}\n',
      'board.yaml':
        'kind: board\nid: k-10\nfamilies: [tern]\nrevisions: [{rev: A, controller: K1}, {rev: B, controller: K1}, {rev: C, controller: [K1, K2]}]\n',
      'drives.yaml': drives
        .map(
          (lines, n) =>
            `kind: drive\nid: d-${n}\nfamily: tern\n${lines}condition: {board: good, media: good}\ndata: none\nshelf: {spare: true}\n`,
        )
        .join('---\n'),
      'outcomes.yaml': tried
        .map(
          ({ patient, donor, rom }, n) =>
            `kind: outcome\nid: o-${n}\npatient: d-${patient}\ndonor: d-${donor}\nrom: ${rom}\n`,
        )
        .join('---\n'),
    });
    const decided = tried.map(({ patient, donor, works }, n): DecidedSwap => {
      const swap = swapOf(snapshot.find('outcome', `o-${n}`)!, snapshot)!;
      return { outcome: `o-${n}`, swap, pair: pairName(`d-${patient}`, `d-${donor}`), works };
    });
    return { snapshot, decided };
  });
