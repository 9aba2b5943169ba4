import fc from 'fast-check';
import type { OutcomeData, RuleData } from '../../schemas/gen/records.ts';
import { stages } from '../../server/src/core/terms/stages.ts';
import { arbitraryCondition } from './arbitrary-condition.ts';
import { arbitraryOutcomeDetails } from './arbitrary-details.ts';
import { arbitraryReference, type Ids } from './arbitrary-ids.ts';
import { arbitraryExtras, arbitraryRetraction, type Plain } from './arbitrary-parts.ts';
import { hostNeeds, hours, oneOfEach, romStates } from './base-values.ts';
import { sparse } from './sparse.ts';

/** A stage that may count as working. */
export const arbitraryStage = fc.constantFrom('spins', 'ready', 'detected', 'reads', 'verified');

/** Controls: a full set in one of two samples, or hardly any failure would prove a thing; else each there or not. */
function arbitraryControls(ids: Ids): fc.Arbitrary<NonNullable<OutcomeData['controls']>> {
  const any = sparse({
    donor_on_own_board: fc.constantFrom('works', 'verified', 'fails', 'not_tested'),
    patient_on_own_board: fc.constantFrom('works', 'verified', 'fails', 'not_tested'),
    swapped_back: fc.constantFrom('both_work', 'patient_fails', 'donor_fails', 'both_fail', 'not_done'),
    hda_proved_by: arbitraryReference('outcome', ids),
  });
  const works = fc.constantFrom('works', 'verified');
  const full = fc.tuple(any, works, works).map(([rest, donor, patient]) => ({
    ...rest,
    ...{ donor_on_own_board: donor, patient_on_own_board: patient },
  }));
  return fc.oneof(any, full) as fc.Arbitrary<NonNullable<OutcomeData['controls']>>;
}

/** Outcomes of any two drives, now and then of one with itself. What was reached and what is said of it need not agree. */
export function arbitraryOutcome(id: string, ids: Ids): fc.Arbitrary<Plain<OutcomeData>> {
  const required = fc.record({
    date: fc.constantFrom('2026-03-14', '2026-04-01'),
    // One drive is tried with several boards more often than not.
    patient: fc.oneof(fc.constant('d-1'), arbitraryReference('drive', ids)),
    donor: arbitraryReference('drive', ids),
    reached: fc.constantFrom(...stages.map((stage) => stage.name)),
    result: fc.constantFrom('works', 'fails', 'inconclusive'),
  });
  const others = sparse({
    rom: fc.oneof(fc.constantFrom(...romStates), fc.subarray([...romStates], { minLength: 1, maxLength: 2 })),
    rom_proved: fc.constantFrom('read_back', 'worked_after'),
    host: sparse({ port: fc.constantFrom('onboard', 'hba'), meets: fc.subarray([...hostNeeds]) }),
    controls: arbitraryControls(ids),
    identity: fc.array(
      sparse(oneOfEach({ patient_before: hours, donor_before: hours, after: hours })).map((row) => ({
        value: 'power_on_hours' as const,
        ...row,
      })),
      { maxLength: 2 },
    ),
  });
  const romFrom = fc.oneof(
    { weight: 4, arbitrary: fc.constant({}) },
    { weight: 1, arbitrary: arbitraryReference('drive', ids).map((drive) => ({ rom_from: drive })) },
  );
  return fc
    .tuple(required, others, romFrom, arbitraryOutcomeDetails, arbitraryRetraction, arbitraryExtras)
    .map(([first, ...more]) => ({ kind: 'outcome', id, ...Object.assign({}, first, ...more) }) as Plain<OutcomeData>);
}

/** Rules of every claim, with conditions nested up to two deep. */
export function arbitraryRule(id: string, ids: Ids): fc.Arbitrary<Plain<RuleData>> {
  const bound = fc.constantFrom<number | string>(2012, 2013, '2012-08', '2012-W31');
  const others = sparse({
    applies_to: sparse({
      families: fc.array(arbitraryReference('family', ids), { maxLength: 2 }),
      makers: fc.array(arbitraryReference('maker', ids), { maxLength: 1 }),
      made: fc.oneof(fc.constant({}), sparse({ from: bound, to: bound })),
    }),
    stage: arbitraryStage,
    basis: fc.constantFrom('measured', 'maker_document', 'common_practice'),
    exceptions: fc.array(
      arbitraryReference('outcome', ids).map((outcome) => ({ outcome, because: 'Power was lost.' })),
      { maxLength: 1 },
    ),
  });
  const rate = fc.oneof(
    { weight: 4, arbitrary: fc.constant({}) },
    { weight: 1, arbitrary: fc.constant({ at_least: 0.8 }) },
  );
  return fc
    .tuple(
      fc.constantFrom('needs', 'enough', 'prevents'),
      arbitraryCondition(2),
      others,
      rate,
      arbitraryRetraction,
      arbitraryExtras,
    )
    .map(([claim, when, ...more]) => ({ kind: 'rule', id, claim, when, ...Object.assign({}, ...more) }));
}
