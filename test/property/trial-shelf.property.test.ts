import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trialShelf } from '../../server/src/core/trials/trial-shelf.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const line = (key: string, ...values: readonly string[]) =>
  fc.constantFrom('', ...values.map((value) => `${key}: ${value}\n`));

const arbitraryDrive = fc.record({
  family: fc.constantFrom('tern', 'tern', 'gull'),
  data: line('data', 'wanted', 'test', 'none', 'none', '[none]'),
  condition: line(
    'condition',
    '{board: good, media: good}',
    '{board: good, media: good}',
    '{board: good, media: good}',
    '{board: good, media: suspect}',
    '{board: good, media: unknown}',
    '{board: faulty, media: good}',
    '{media: good}',
    '{board: good, media: fine}',
  ),
  shelf: line('shelf', '{spare: true}', '{spare: true}', '{spare: false}', '{place: drawer}'),
  parts: line('parts', 'both', 'both', 'board_only', 'hda_only'),
  examined: line('examined', '[{on: 2026-03-01, supply_12v: shorted}]', '[{on: 2026-03-01, motor_windings: ok}]'),
  retracted: fc.constantFrom('', '', '', 'retracted: {on: 2026-03-02, because: mixed up}\n'),
});

const arbitraryDrives = fc.array(arbitraryDrive, { minLength: 1, maxLength: 8 });

function shelfOf(drives: readonly DriveLines[]) {
  const snapshot = snapshotOf({
    'families.yaml': ['tern', 'gull'].map((id) => `kind: family\nid: ${id}\nmaker: wren\nname: ${id}\n`).join('---\n'),
    'drives.yaml': drives
      .map(({ family, ...lines }, n) => `kind: drive\nid: d-${n}\nfamily: ${family}\n${Object.values(lines).join('')}`)
      .join('---\n'),
  });
  return trialShelf('tern', snapshot);
}

type DriveLines = typeof arbitraryDrive extends fc.Arbitrary<infer Lines> ? Lines : never;

function isSpare({ family, shelf, retracted }: DriveLines): boolean {
  return family === 'tern' && shelf.includes('spare: true') && retracted === '';
}

describe('trial shelf', () => {
  it('no drive is offered whose data is wanted or not known, whose platters or heads are in doubt, or that is not spare', () => {
    let offered = 0;
    assertLaw(
      300,
      fc.property(arbitraryDrives, (drives) => {
        const { patients, donors } = shelfOf(drives);
        for (const { drive } of [...patients, ...donors]) {
          const lines = drives[Number(drive.id.slice(2))]!;
          expect(isSpare(lines)).toBe(true);
          expect(['data: test\n', 'data: none\n']).toContain(lines.data);
          expect(lines.condition).toBe('condition: {board: good, media: good}\n');
          expect(['', 'parts: both\n']).toContain(lines.parts);
          offered++;
        }
      }),
    );
    expectOften(offered, 20);
  });

  it('every spare drive is offered or left out for a reason', () => {
    assertLaw(
      200,
      fc.property(arbitraryDrives, (drives) => {
        const { donors, leftOut } = shelfOf(drives);
        const named = [...donors.map(({ drive }) => drive.id), ...[...leftOut.values()].flat()].sort();
        expect(named).toEqual(drives.flatMap((lines, n) => (isSpare(lines) ? `d-${n}` : [])));
      }),
    );
  });
});
