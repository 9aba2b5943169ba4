import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rateOff } from '../../server/src/core/checks/rate-off.ts';
import { findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { suggestedRepairs } from '../../server/src/core/odds/suggested-repairs.ts';
import { type RuleResult, ruleResults } from '../../server/src/core/reasoning/rule-results.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { drained } from '../harness/drained.ts';
import { fileOf, snapshotOf } from '../harness/snapshot-of.ts';

type Data = Readonly<Record<string, unknown>>;

const arbitraryDrive = fc.record({
  site: fc.constantFrom('KL', 'SB'),
  heads: fc.constantFrom(2, 4),
  preamp: fc.constantFrom('PA-1', 'PA-2', undefined),
});

const arbitraryRule = fc.record({
  claim: fc.constantFrom('needs', 'enough', 'prevents'),
  when: fc.constantFrom({ same: ['site'] }, { same: ['heads'] }, { different: ['site'] }, { rom_travels: true }),
});

/** Ten drives, a rule that mostly holds, and swaps with every control in place. */
const arbitraryBench = fc.record({
  drives: fc.array(arbitraryDrive, { minLength: 10, maxLength: 10 }),
  rule: arbitraryRule,
  swaps: fc.array(fc.tuple(fc.nat(9), fc.nat(9), fc.boolean(), fc.nat(9)), { minLength: 12, maxLength: 24 }),
});

type Bench = typeof arbitraryBench extends fc.Arbitrary<infer T> ? T : never;

function snapshotOfBench({ drives, rule, swaps }: Bench): Snapshot {
  const records: Data[] = [
    { kind: 'family', id: 'tern', adaptives: { stored_in: 'rom_chip' } },
    ...drives.map((drive, position) => ({ kind: 'drive', id: `d-${position}`, family: 'tern', ...drive })),
    ...swaps.flatMap(([patient, donor, travels, luck], position) => {
      if (patient === donor) return [];
      const [a, b] = [drives[patient]!, drives[donor]!];
      // Equal heads and the patient's own ROM make it work, mostly.
      const works = (a.heads === b.heads && travels) !== (luck === 0);
      const controls = { donor_on_own_board: 'works', patient_on_own_board: 'works', swapped_back: 'both_work' };
      const id = `o-${String(position).padStart(2, '0')}`;
      const swap = {
        patient: `d-${patient}`,
        donor: `d-${donor}`,
        rom: travels ? 'chip_moved' : 'left',
        rom_proved: 'read_back',
      };
      return [
        {
          kind: 'outcome',
          id,
          ...swap,
          controls,
          reached: works ? 'reads' : 'nothing',
          result: works ? 'works' : 'fails',
        },
      ];
    }),
  ];
  const text = records.map((record) => JSON.stringify(record)).join('\n---\n');
  return snapshotOf({ 'bench.yaml': text, 'rule.yaml': ruleText(rule) });
}

function ruleText(rule: Data): string {
  return JSON.stringify({ kind: 'rule', id: 'rule', ...rule });
}

function withRule(snapshot: Snapshot, rule: Data): Snapshot {
  return snapshot.with([{ path: 'rule.yaml', file: fileOf('rule.yaml', ruleText(rule)) }]);
}

function idsOf(list: RuleResult['support']): string[] {
  return list.map(({ outcome }) => outcome.id);
}

describe('suggested repairs', () => {
  it('a law with the suggested entry keeps its support and has nothing against it', () => {
    let tried = 0;
    assertLaw(
      600,
      fc.property(arbitraryBench, (bench) => {
        const snapshot = snapshotOfBench(bench);
        const [before] = ruleResults(snapshot);
        for (const { entry } of suggestedRepairs(snapshot)) {
          if (!entry) continue;
          tried++;
          const [mended] = ruleResults(withRule(snapshot, { ...bench.rule, when: entry.when }));
          expect(idsOf(mended!.against)).toEqual([]);
          expect(idsOf(mended!.support)).toEqual(expect.arrayContaining(idsOf(before!.support)));
        }
      }),
    );
    expectOften(tried, 20);
  });

  it('a suggested rate is none that the recorded pairs speak against', () => {
    let tried = 0;
    assertLaw(
      300,
      fc.property(arbitraryBench, (bench) => {
        const snapshot = snapshotOfBench(bench);
        for (const { atLeast } of suggestedRepairs(snapshot)) {
          if (atLeast === undefined) continue;
          tried++;
          expect(atLeast > 0 && atLeast < 1).toBe(true);
          const rated = withRule(snapshot, { ...bench.rule, at_least: atLeast });
          expect(findingsOf(drained(runChecks(rated, { today: 0, checks: [rateOff] })))).toEqual([]);
        }
      }),
    );
    expectOften(tried, 20);
  });
});
