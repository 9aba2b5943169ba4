import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluateAtom } from '../../server/src/core/conditions/evaluate.ts';
import type { Atom, Formula } from '../../server/src/core/conditions/formula.ts';
import { openSlotsOf } from '../../server/src/core/conditions/open-slots.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { ruleResults } from '../../server/src/core/reasoning/rule-results.ts';
import { allEvidence } from '../../server/src/core/verdicts/evidence.ts';
import { arbitraryBase } from '../harness/arbitrary-base.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { openSlots } from '../harness/open-slots.ts';
import { fileOfRecord, snapshotOfBase } from '../harness/snapshot-of.ts';

function atomsOf(formula: Formula): Atom[] {
  if (formula.op === 'atom') return [formula.atom];
  return formula.op === 'not' ? atomsOf(formula.part) : formula.parts.flatMap(atomsOf);
}

/** Every atom of every rule on every swap: its truth and its open slots, by name. */
function atomsOn(snapshot: Snapshot): Map<string, { readonly truth: boolean | undefined; readonly slots: string }> {
  const atoms = new Map(
    ruleResults(snapshot).flatMap(({ rule }) =>
      atomsOf(rule.when).map((atom) => [JSON.stringify(atom), atom] as const),
    ),
  );
  return new Map(
    allEvidence(snapshot).flatMap(({ outcome, swap }) =>
      swap
        ? [...atoms].map(([name, atom]) => {
            const slots = JSON.stringify(openSlotsOf(atom, swap));
            return [`${outcome.id} ${name}`, { truth: evaluateAtom(atom, swap), slots }] as const;
          })
        : [],
    ),
  );
}

describe('open slots', () => {
  it('learning a value that is none of its open slots leaves an atom as it was', () => {
    let learned = 0;
    assertLaw(
      40,
      fc.property(arbitraryBase, fc.nat(), (base, value) => {
        const snapshot = snapshotOfBase(base);
        const before = atomsOn(snapshot);
        for (const { name: slot, learn } of openSlots(base)) {
          const file = fileOfRecord(learn(value));
          for (const [name, after] of atomsOn(snapshot.with([{ path: file.path, file }]))) {
            const was = before.get(name);
            if (was?.truth === after.truth) continue;
            learned++;
            expect(was?.slots, `${slot} in ${name}`).not.toBe(after.slots);
          }
        }
      }),
    );
    expectOften(learned, 20);
  });

  it('an open slot of an atom holds no value', () => {
    assertLaw(
      150,
      fc.property(arbitraryBase, (base) => {
        const snapshot = snapshotOfBase(base);
        for (const { rule } of ruleResults(snapshot)) {
          for (const { swap } of allEvidence(snapshot)) {
            for (const { owner, key } of swap ? atomsOf(rule.when).flatMap((atom) => openSlotsOf(atom, swap)) : []) {
              if (owner.kind === 'drive') {
                const drive = snapshot.find('drive', owner.id)?.data as Record<string, unknown>;
                expect(drive[key === 'board' ? 'no such key' : key], key).toBeUndefined();
                const board = drive['board'] as Record<string, unknown> | undefined;
                expect(board?.[key === 'board' ? 'id' : key], key).toBeUndefined();
              }
              const path = key === 'adaptives' ? ['adaptives', 'stored_in'] : [key];
              if (owner.kind === 'family')
                expect(snapshot.find('family', owner.id)?.data ?? {}).not.toHaveProperty(path);
              if (key === 'rom') expect(swap?.outcome.data.rom).toBeUndefined();
            }
          }
        }
      }),
    );
  });
});
