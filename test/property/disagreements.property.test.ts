import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { comparableKeys } from '../../schemas/gen/key-table.ts';
import { evaluateAtom } from '../../server/src/core/conditions/evaluate.ts';
import { romTravels } from '../../server/src/core/conditions/rom-travels.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { disagreements } from '../../server/src/core/reasoning/disagreements.ts';
import { isAtLeast } from '../../server/src/core/terms/stages.ts';
import { allEvidence, type Evidence } from '../../server/src/core/verdicts/evidence.ts';
import { limitsBelow } from '../../server/src/core/verdicts/observed-limits.ts';
import { arbitraryBase, type PlainBase } from '../harness/arbitrary-base.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

/** Bases of one family with one board and decided outcomes, in which little is recorded of a drive: else hardly two would compare alike. */
const alikeBases: fc.Arbitrary<PlainBase> = arbitraryBase.map((base) => ({
  ...base,
  config: { swaplore: 1 },
  drive: base.drive.map(({ kind, id, heads, site, firmware }) => ({
    ...{ kind, id, family: base.family[0]?.id ?? 'tern-1', board: { id: 'kestrel', rev: 'A1' } },
    ...(heads === undefined ? {} : { heads }),
    ...(site === undefined ? {} : { site }),
    firmware: firmware ?? 'F1',
  })),
  outcome: base.outcome.map(({ kind, id, date, patient, donor, reached, result }) => ({
    ...{ kind, id, date, patient, donor, reached, result, rom: 'image_written', rom_proved: 'read_back' },
    controls: { donor_on_own_board: 'verified', patient_on_own_board: 'verified' },
  })),
})) as fc.Arbitrary<PlainBase>;

/** The two outcomes and the keys neither can be compared in, where they disagree by the words of the design. */
function disagree(a: Evidence, b: Evidence, snapshot: Snapshot): string | undefined {
  const { worksAt } = snapshot.config;
  const results = [a, b].map(({ verdicts }) => verdicts[worksAt].result);
  if (!a.swap || !b.swap || [...results].sort().join(' ') !== 'fails works') return undefined;
  const [one, other] = [a.swap, b.swap];
  const pairOf = ({ patient, donor }: typeof one): string => [patient.drive.id, donor.drive.id].sort().join(' ');
  if (pairOf(one) === pairOf(other) || one.patient.drive.data.family !== other.patient.drive.data.family)
    return undefined;
  if (romTravels(one) === undefined || romTravels(one) !== romTravels(other)) return undefined;
  const worked = results[0] === 'works' ? a : b;
  if (limitsBelow(worked.outcome, snapshot).some(({ allows }) => !isAtLeast(allows, worksAt))) return undefined;
  const patterns = comparableKeys.map((key) => ({
    key,
    truths: [evaluateAtom({ test: 'same', key }, one), evaluateAtom({ test: 'same', key }, other)],
  }));
  const known = patterns.filter(({ truths }) => !truths.includes(undefined));
  const counted = known.map(({ key }) => key).filter((key) => key !== 'family');
  if (known.some(({ truths }) => truths[0] !== truths[1]) || counted.length < 3 || !counted.includes('rev'))
    return undefined;
  const unrecorded = patterns.filter(({ truths }) => truths.every((truth) => truth === undefined));
  const ids = [a.outcome.id, b.outcome.id].sort();
  return `${ids[0]} < ${ids[1]}: ${counted} / ${unrecorded.map(({ key }) => key)}`;
}

describe('disagreements', () => {
  it('two outcomes disagree by the words of the design, and in one list only, that of the later', () => {
    let seen = 0;
    assertLaw(
      300,
      fc.property(fc.oneof(arbitraryBase, alikeBases), (base) => {
        const snapshot = snapshotOfBase(base);
        const evidence = allEvidence(snapshot);
        const expected = evidence.flatMap((a, position) =>
          evidence.slice(position + 1).flatMap((b) => disagree(a, b, snapshot) ?? []),
        );
        const found = [...disagreements(snapshot)].flatMap(({ outcome, opposites }) =>
          Array.from(opposites, (earlier) => {
            return `${earlier.outcome.id} < ${outcome.id}: ${earlier.shared} / ${earlier.unrecorded}`;
          }),
        );
        seen += found.length;
        expect(found.sort()).toEqual(expected.sort());
      }),
    );
    expectOften(seen, 20);
  });
});
