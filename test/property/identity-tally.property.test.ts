import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { isRetracted } from '../../server/src/core/model/record.ts';
import { reportsOf } from '../../server/src/core/verdicts/identity-rows.ts';
import { type IdentityTally, identityTally } from '../../server/src/core/verdicts/identity-tally.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { fileOf, snapshotOf } from '../harness/snapshot-of.ts';

const drives =
  'kind: family\nid: tern\nmaker: wren\nname: Tern\n---\nkind: drive\nid: d-1\nfamily: tern\n---\nkind: drive\nid: d-2\nfamily: tern\n';
const serial = fc.constantFrom('****4F2K', '****9Q1C', '****0000', undefined);

/** Outcomes of the two drives with one row each. */
const outcomes = fc.array(
  fc
    .record({
      patient_before: serial,
      donor_before: serial,
      after: serial,
      other_after: serial,
      rom: fc.constantFrom('left', 'chip_moved', undefined),
      retracted: fc.boolean(),
    })
    .map(({ rom, retracted, ...row }) => {
      const cells = Object.entries(row).flatMap(([key, value]) =>
        value === undefined ? [] : [`, ${key}: "${value}"`],
      );
      return `kind: outcome\nid: ID\ndate: 2026-03-14\npatient: d-1\ndonor: d-2\n${rom === undefined ? '' : `rom: ${rom}\n`}identity: [{value: serial${cells.join('')}}]\nreached: reads\n${retracted ? 'retracted: {on: 2026-03-15, because: test}\n' : ''}`;
    }),
  { minLength: 1, maxLength: 5 },
);

function baseOf(texts: readonly string[]): Record<string, string> {
  const files = texts.map((text, at) => [`outcomes/${at}.yaml`, text.replace('ID', `o-${at}`)] as const);
  return { 'drives.yaml': drives, ...Object.fromEntries(files) };
}

function tallyIn(snapshot: Snapshot): readonly IdentityTally[] {
  return identityTally('tern', snapshot);
}

describe('what values were seen to follow', () => {
  it('every value in an identity row of the family is counted once for each assembly, or decides nothing', () => {
    const seen = new Set<string>();
    assertLaw(
      200,
      fc.property(outcomes, (texts) => {
        const snapshot = snapshotOf(baseOf(texts));
        const reports = snapshot
          .records('outcome')
          .filter((outcome) => !isRetracted(outcome))
          .flatMap((outcome) => {
            const columns = reportsOf(outcome).map(({ column }) => column);
            const canTell = columns.includes('patient_before') && columns.includes('donor_before');
            return canTell ? columns.filter((column) => column.endsWith('after')) : [];
          });
        const counts = tallyIn(snapshot).flatMap(({ value: _, ...row }) => Object.entries(row));
        for (const [name, count] of counts) if (count > 0) seen.add(name);
        expect(counts.reduce((sum, [, count]) => sum + count, 0)).toBe(reports.length);
      }),
    );
    expectOften(seen.size, 4);
  });

  it('the tally after edits is that of a fresh base', () => {
    assertLaw(
      100,
      fc.property(outcomes, outcomes, (before, after) => {
        const snapshot = snapshotOf(baseOf(before));
        tallyIn(snapshot);
        const texts = { ...baseOf(before), ...baseOf(after) };
        const edited = snapshot.with(
          Object.keys(baseOf(after)).map((path) => ({ path, file: fileOf(path, texts[path]!) })),
        );
        expect(tallyIn(edited)).toEqual(tallyIn(snapshotOf(texts)));
      }),
    );
  });
});
