import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { OutcomeData } from '../../schemas/gen/records.ts';
import { stages } from '../../server/src/core/terms/stages.ts';
import { allEvidence, type Evidence, evidenceOf } from '../../server/src/core/verdicts/evidence.ts';
import { arbitraryBase, type PlainBase } from '../harness/arbitrary-base.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { fileOfRecord, snapshotOfBase } from '../harness/snapshot-of.ts';

type Controls = NonNullable<OutcomeData['controls']>;

const stageNames = stages.map((stage) => stage.name);

const everyControl: readonly Controls[] = [
  ...(['verified', 'works', 'fails', 'not_tested'] as const).flatMap((says) => [
    { donor_on_own_board: says },
    { patient_on_own_board: says },
  ]),
  ...(['both_work', 'patient_fails', 'donor_fails', 'both_fail', 'not_done'] as const).map((says) => ({
    swapped_back: says,
  })),
];

/** Whether swapping back showed that something broke on the way: it had worked before, and no longer does. */
function showsDamage(outcome: OutcomeData, base: PlainBase): boolean {
  const { swapped_back: back, patient_on_own_board: own, hda_proved_by: proofId } = outcome.controls ?? {};
  if (back === 'donor_fails' || back === 'both_fail') return true;
  const proof = base.outcome.find(
    ({ id, patient, retracted }) => id === proofId && id !== outcome.id && patient === outcome.patient && !retracted,
  );
  const hadWorked = own === 'works' || own === 'verified' || (proof !== undefined && proof.reached !== 'nothing');
  return back === 'patient_fails' && hadWorked;
}

describe('evidence', () => {
  it('an outcome of two recorded drives works at every stage up to the one it reached, and at no other', () => {
    assertLaw(
      150,
      fc.property(arbitraryBase, (base) => {
        for (const { outcome, swap, verdicts } of allEvidence(snapshotOfBase(base))) {
          const named = new Set([outcome.data.patient, outcome.data.donor]);
          const areRecorded = base.drive.filter(({ id }) => named.has(id)).length === 2;
          expect(swap !== undefined).toBe(areRecorded);
          const reached = areRecorded ? stageNames.indexOf(outcome.data.reached ?? 'nothing') : -1;
          const worksAt = stageNames.filter((stage) => verdicts[stage].result === 'works');
          expect(worksAt).toEqual(stageNames.slice(0, reached + 1));
        }
      }),
    );
  });

  it('a control more never makes an eligible outcome ineligible, unless it shows damage', () => {
    assertLaw(
      100,
      fc.property(arbitraryBase, (base) => {
        const snapshot = snapshotOfBase(base);
        for (const before of base.outcome) {
          const proofs = base.outcome.map((other) => ({ hda_proved_by: other.id }));
          const evidence = evidenceIn(snapshot, before.id);
          for (const control of [...everyControl, ...proofs]) {
            const [key] = Object.keys(control) as (keyof Controls)[];
            if (key === undefined || before.controls?.[key] !== undefined) continue;
            const outcome = { ...before, controls: { ...before.controls, ...control } };
            const file = fileOfRecord(outcome);
            const after = evidenceIn(snapshot.with([{ path: file.path, file }]), before.id);
            const isDamaged = showsDamage(outcome, base);
            for (const stage of stageNames) {
              const { isEligible } = after.verdicts[stage];
              if (isDamaged) expect(isEligible).toBe(false);
              else if (evidence.verdicts[stage].isEligible) expect(isEligible, JSON.stringify(control)).toBe(true);
            }
          }
        }
      }),
    );
  });

  it('what fails at a stage fails at every higher one where it is eligible', () => {
    assertLaw(
      150,
      fc.property(arbitraryBase, (base) => {
        for (const { verdicts } of allEvidence(snapshotOfBase(base))) {
          const first = stageNames.findIndex((stage) => verdicts[stage].result === 'fails');
          if (first < 0) continue;
          for (const stage of stageNames.slice(first)) {
            expect(verdicts[stage].result).toBe(verdicts[stage].isEligible ? 'fails' : 'inconclusive');
          }
        }
      }),
    );
  });
});

function evidenceIn(snapshot: ReturnType<typeof snapshotOfBase>, id: string): Evidence {
  return evidenceOf(snapshot.find('outcome', id)!, snapshot);
}
