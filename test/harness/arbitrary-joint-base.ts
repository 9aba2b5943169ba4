import fc from 'fast-check';
import type { ConditionData, OutcomeData, RuleData } from '../../schemas/gen/records.ts';
import { arbitraryBase, type PlainBase } from './arbitrary-base.ts';
import { arbitraryCondition } from './arbitrary-condition.ts';
import type { Plain } from './arbitrary-parts.ts';
import { idPools } from './base-values.ts';

const ruleIds = ['r-1', 'r-2', 'r-3', 'r-4', 'r-5'];
const outcomeIds = ['o-1', 'o-2', 'o-3', 'o-4', 'o-5', 'o-6', 'o-7'];

/** The keys that these rules compare: few, so that they often speak of the same. */
const keys = ['preamp', 'controller', 'contact_pads', 'rom_package', 'rev', 'site'] as const;

const entries: fc.Arbitrary<ConditionData> = fc.oneof(
  { weight: 4, arbitrary: fc.subarray([...keys], { minLength: 1, maxLength: 2 }).map((same) => ({ same })) },
  { weight: 3, arbitrary: fc.constantFrom(...keys).map((key) => ({ different: [key] })) },
  { weight: 1, arbitrary: fc.constantFrom('drop_in' as const, 'other' as const).map((revision) => ({ revision })) },
  { weight: 1, arbitrary: fc.boolean().map((travels) => ({ rom_travels: travels })) },
  { weight: 1, arbitrary: fc.constantFrom('Q1', 'Q2').map((preamp) => ({ patient: { preamp } })) },
  { weight: 1, arbitrary: fc.constantFrom('KR1', 'KR2').map((controller) => ({ donor: { controller } })) },
  { weight: 1, arbitrary: fc.constantFrom(18, 20).map((to) => ({ patient: { contact_pads: { from: 17, to } } })) },
  { weight: 1, arbitrary: fc.constantFrom('kestrel/A1', 'kestrel/A2').map((rev) => ({ donor: { rev } })) },
  { weight: 1, arbitrary: fc.constantFrom(0, 4).map((weeks) => ({ made_within_weeks: weeks })) },
);

const narrowCondition: fc.Arbitrary<ConditionData> = fc.oneof(
  { weight: 5, arbitrary: entries },
  {
    weight: 1,
    arbitrary: fc.tuple(entries, entries).map((parts) => ({ any: parts })),
  },
  { weight: 1, arbitrary: fc.tuple(entries, entries).map(([a, b]) => ({ all: [a], none: [b] })) },
);

function arbitraryLaw(id: string): fc.Arbitrary<Plain<RuleData>> {
  const scope = fc.oneof(
    { weight: 5, arbitrary: fc.constant({}) },
    { weight: 1, arbitrary: fc.constantFrom(...idPools.family).map((family) => ({ families: [family] })) },
  );
  return fc
    .tuple(
      fc.constantFrom('needs', 'enough', 'prevents'),
      fc.oneof({ weight: 6, arbitrary: narrowCondition }, { weight: 1, arbitrary: arbitraryCondition(1) }),
      scope,
      fc.constantFrom('measured', undefined),
    )
    .map(
      ([claim, when, applies_to, basis]) =>
        ({ kind: 'rule', id, claim, when, applies_to, ...(basis ? { basis } : {}) }) as Plain<RuleData>,
    );
}

/** Two laws about one key, of which a chain of outcomes makes a contradiction, and others. */
const chainLaws: fc.Arbitrary<PlainBase['rule']> = fc
  .tuple(fc.constantFrom(...keys), fc.constantFrom('needs', 'prevents'), arbitraryLaw('r-3'))
  .map(([key, claim, other]) => [
    { kind: 'rule', id: 'r-1', claim: 'enough', when: { same: [key] } },
    claim === 'needs'
      ? { kind: 'rule', id: 'r-2', claim, when: { same: [key] } }
      : { kind: 'rule', id: 'r-2', claim: 'prevents', when: { different: [key] } },
    other,
  ]);

/** Outcomes that are decided: they read, or fail with every control in place. */
function arbitraryDecided(id: string): fc.Arbitrary<Plain<OutcomeData>> {
  return fc
    .record({
      patient: fc.constantFrom(...idPools.drive),
      donor: fc.constantFrom(...idPools.drive),
      works: fc.boolean(),
      rom: fc.constantFrom('left', 'chip_moved', undefined),
    })
    .filter(({ patient, donor }) => patient !== donor)
    .map(({ patient, donor, works, rom }) => ({
      ...{ kind: 'outcome', id, date: '2026-03-14', patient, donor, host: { port: 'onboard' } },
      ...(rom === undefined ? {} : { rom }),
      ...{ rom_proved: 'read_back', controls: { donor_on_own_board: 'works', patient_on_own_board: 'works' } },
      ...{ reached: works ? 'reads' : 'spins', result: works ? 'works' : 'fails' },
    })) as fc.Arbitrary<Plain<OutcomeData>>;
}

/** Without what would keep values from being open or outcomes from being decided, now and then. */
function opened({
  base,
  rule,
  outcome,
  drop,
}: {
  readonly base: PlainBase;
  readonly rule: PlainBase['rule'];
  readonly outcome: PlainBase['outcome'];
  readonly drop: readonly boolean[];
}): PlainBase {
  return {
    ...base,
    config: { swaplore: 1 },
    family: base.family.map(({ host_needs: _, ...family }) => family),
    drive: idPools.drive.map((id, position) => {
      const { preamp, site, ...drive } = base.drive[position % base.drive.length]!;
      const isOpen = drop[position % drop.length];
      return {
        ...drive,
        id,
        family: base.family[position % base.family.length]!.id,
        ...(isOpen || !preamp ? {} : { preamp }),
        ...(isOpen && site ? { site } : {}),
      };
    }),
    rule,
    outcome,
  };
}

/** Small bases whose outcomes are decided and whose laws speak of the same few keys, many of which nobody recorded. */
export const arbitraryJointBase: fc.Arbitrary<PlainBase> = fc
  .record({
    base: arbitraryBase,
    rule: fc.oneof(fc.tuple(...ruleIds.map(arbitraryLaw)), chainLaws),
    outcome: fc.tuple(...outcomeIds.map(arbitraryDecided)),
    drop: fc.array(fc.boolean(), { minLength: 3, maxLength: 3 }),
  })
  .map(opened);
