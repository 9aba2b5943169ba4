import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluateAtom } from '../../server/src/core/conditions/evaluate.ts';
import { romTravels } from '../../server/src/core/conditions/rom-travels.ts';
import type { Swap } from '../../server/src/core/conditions/swap.ts';
import { plannedSwap } from '../../server/src/core/donors/planned-swap.ts';
import { candidateAtoms } from '../../server/src/core/explanations/entry-classes.ts';
import { trialGroups } from '../../server/src/core/trials/trial-groups.ts';
import { trialShelf } from '../../server/src/core/trials/trial-shelf.ts';
import { pairName } from '../../server/src/core/verdicts/pair-name.ts';
import { arbitraryTrials } from '../harness/arbitrary-trials.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';

describe('trial groups', () => {
  it('every swap of the shelf that was not tried stands in one group, and every entry says of it what it says of the group', () => {
    let groupsSeen = 0;
    assertLaw(
      60,
      fc.property(arbitraryTrials, ({ snapshot, decided }) => {
        const shelf = trialShelf('tern', snapshot);
        const swaps = shelf.patients.flatMap((patient) =>
          shelf.donors.flatMap(({ drive }) =>
            patient.drive === drive
              ? []
              : [['chip_moved'] as const, ['left'] as const].map((actions) =>
                  plannedSwap(patient, drive, { actions }, snapshot),
                ),
          ),
        );
        const atoms = candidateAtoms([...swaps, ...decided.map(({ swap }) => swap)]);
        const said = (swap: Swap) => atoms.map((atom) => String(evaluateAtom(atom, swap))).join();
        // A comparison says the same either way round; only values on one side do not.
        const compared = (swap: Swap) =>
          `${pairName(swap.patient.drive.id, swap.donor.drive.id)} ${romTravels(swap)} ${atoms
            .filter(({ test }) => test === 'same')
            .map((atom) => String(evaluateAtom(atom, swap)))}`;
        const tried = new Set(decided.map(({ swap }) => compared(swap)));
        const expected = new Map<string, number>();
        for (const swap of swaps.filter((one) => !tried.has(compared(one)))) {
          expected.set(said(swap), (expected.get(said(swap)) ?? 0) + 1);
        }
        const { groups, all, looked } = trialGroups(shelf, decided, snapshot);
        const found = groups.map(({ swap, swaps: count }) => [said(swap), count] as const);
        // Groups may tell more apart than these entries do, never less.
        const summed = new Map<string, number>();
        for (const [name, count] of found) summed.set(name, (summed.get(name) ?? 0) + count);
        expect(summed).toEqual(expected);
        for (const { swap, pair } of groups) {
          expect(tried.has(compared(swap))).toBe(false);
          expect(pair).toBe(pairName(swap.patient.drive.id, swap.donor.drive.id));
        }
        expect(all).toBe(groups.length);
        expect(looked).toBe(shelf.donors.length);
        groupsSeen += groups.length;
      }),
    );
    expectOften(groupsSeen, 300);
  });
});
