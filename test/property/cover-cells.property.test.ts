import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import { coveredRows, coverOf } from '../../server/src/core/exporting/cover-cells.ts';
import { exportTables } from '../../server/src/core/exporting/export-tables.ts';
import { keyNodes } from '../../server/src/core/schema/key-rows.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { drained } from '../harness/drained.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';
import { ternBench } from '../harness/tern-bench.ts';

const tables = exportTables(keyNodes);

/** Where a serial number may be written, given as it is or turned about. */
interface Written {
  readonly serial: string;
  readonly policy: 'masked' | 'full';
  readonly drive: string;
  readonly after: string;
  readonly notes: string;
  readonly own: string;
}

const serials = fc.string({ unit: fc.constantFrom(...'WRN0124FKX'), minLength: 4, maxLength: 12 });

function spelt(serial: string): fc.Arbitrary<string> {
  const reversed = [...serial].reverse().join('');
  const digits = Buffer.from(serial).toString('hex');
  return fc.constantFrom(
    serial,
    serial.toLowerCase(),
    `(${serial})`,
    reversed,
    digits,
    `see ${serial}, and ${digits}`,
    '****24FK',
  );
}

const written: fc.Arbitrary<Written> = serials.chain((serial) =>
  fc.record({
    serial: fc.constant(serial),
    policy: fc.constant('masked' as const),
    drive: fc.constantFrom(serial, '****1'),
    after: fc.constantFrom(serial, '****1'),
    notes: spelt(serial),
    own: spelt(serial),
  }),
);

function cellsOf({ policy, drive, after, notes, own }: Written, isCovered: 'covered' | 'plain'): unknown[][] {
  const snapshot = snapshotOf({
    ...ternBench,
    'swaplore.yaml': `swaplore: 1\nserials: ${policy}\n`,
    'drives/other.yaml': `kind: drive\nid: other\nfamily: tern-2\nserial: ${JSON.stringify(drive)}\nnotes: ${JSON.stringify(notes)}\nx-own: [{job: ${JSON.stringify(own)}, ? ${JSON.stringify(own)} : 1}]\n`,
    'outcomes/other.yaml': `kind: outcome\nid: other\ndate: 2026-03-14\npatient: other\ndonor: d-0118\nidentity: [{value: serial, after: ${JSON.stringify(after)}}]\nreached: reads\nresult: works\n`,
  });
  const today = 20_526;
  const source = { snapshot, findings: findingsOf(drained(runChecks(snapshot, { today }))), today };
  const cover = coverOf(snapshot);
  return tables.map((table) => {
    const rows = isCovered === 'plain' ? table.rows(source) : coveredRows(table, table.rows(source), cover);
    return [...rows];
  });
}

describe('cells', () => {
  it('in a base that masks serial numbers no free text of any table holds one in full', () => {
    assertLaw(
      60,
      fc.property(written, (base) => {
        fc.pre(base.drive === base.serial || base.after === base.serial);
        const digits = Buffer.from(base.serial).toString('hex');
        for (const [at, rows] of cellsOf(base, 'covered').entries()) {
          for (const row of rows as unknown[][]) {
            const free = row.filter((_, column) => tables[at]!.columns[column]!.isFree);
            const text = JSON.stringify(free).toLowerCase();
            expect(text).not.toContain(base.serial.toLowerCase());
            expect(text).not.toContain(digits);
          }
        }
      }),
    );
  });

  it('where no serial number is recorded in full, or the base keeps them so, every row stays as it is', () => {
    assertLaw(
      20,
      fc.property(written, fc.boolean(), (base, isFull) => {
        const kept = isFull ? { ...base, policy: 'full' as const } : { ...base, drive: '****1', after: '****1' };
        expect(cellsOf(kept, 'covered')).toEqual(cellsOf(kept, 'plain'));
      }),
    );
  });
});
