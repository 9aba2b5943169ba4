import { describe, expect, it } from 'vitest';
import type { ConditionData } from '../../schemas/gen/records.ts';
import { describeReason } from '../../server/src/core/conditions/describe.ts';
import { toFormula } from '../../server/src/core/conditions/formula.ts';
import { reasonsFor } from '../../server/src/core/conditions/reasons.ts';
import { swapOf } from '../../server/src/core/conditions/swap.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';
import { type SwapBase, swapBase } from '../harness/swap-base.ts';

/** What makes a condition of a rule true, false or unknown on the swap of a small base. */
function reasons(condition: ConditionData, parts: SwapBase): readonly string[] {
  const snapshot = snapshotOf(swapBase(parts));
  const outcome = snapshot.find('outcome', 'one');
  const swap = outcome && swapOf(outcome, snapshot);
  if (!swap) throw new Error('the sample does not load');
  return reasonsFor(toFormula(condition, []), swap).map((reason) => describeReason(reason, swap));
}

const board = `kind: board
id: kestrel
maker: wren
part_number: K-40
revisions: [{rev: A, controller: [WY-1, WY-2]}, {rev: B, controller: WY-3}]
`;

const cases: readonly (readonly [string, ConditionData, SwapBase, readonly string[]])[] = [
  [
    'dates of manufacture, one of them not recorded',
    { made_within_weeks: 4 },
    { patient: 'made: 2012-W30' },
    ['`made` is `2012-W30` on patient `d-0117` and not recorded on donor `d-0118`'],
  ],
  [
    'a date of manufacture that one side is asked for',
    { patient: { made: { from: 2012 } }, donor: { made: { to: 2014 } } },
    { patient: 'made: 2012-W30' },
    ['`made` is `not recorded` on donor `d-0118`'],
  ],
  [
    'hours as the patient told them before',
    { patient: { power_on_hours: 10 } },
    { outcome: 'identity: [{value: power_on_hours, patient_before: 812, donor_before: 77, after: 77}]' },
    ['`power_on_hours` is `812` on patient `d-0117`'],
  ],
  [
    'a key of the family',
    { family_is: { encryption: 'none' } },
    { family: 'encryption: always' },
    ['`encryption` of family `tern-2` is `always`'],
  ],
  ['the ROM, nothing said', { rom_travels: true }, {}, ['what was done about the ROM is not recorded']],
  [
    'the ROM, and where the family keeps its adaptives',
    { rom_travels: true },
    { family: 'adaptives: {stored_in: rom_chip}', outcome: 'rom: left' },
    ['the ROM was `left` (this family keeps its adaptives in `rom_chip`)'],
  ],
  [
    'the ROM, two things done',
    { rom_travels: false },
    { family: 'adaptives: {stored_in: controller}', outcome: 'rom: [chip_moved, controller_moved]' },
    ['the ROM was `chip_moved` and `controller_moved` (this family keeps its adaptives in `controller`)'],
  ],
  [
    'whose adaptives were on the board',
    { rom_travels: true },
    { outcome: 'rom: image_written\nrom_from: d-0118' },
    ['the adaptives on the board were those of `d-0118`'],
  ],
  [
    'a revision with its board',
    { revision: 'drop_in' },
    {
      files: { 'boards/kestrel.yaml': board },
      patient: 'board: {id: kestrel, rev: A}',
      donor: 'board: {id: kestrel, rev: B}',
    },
    ['`rev` is `kestrel/A` on patient `d-0117` and `kestrel/B` on donor `d-0118`'],
  ],
  [
    'a value of the board, and one of several',
    { same: ['controller'] },
    {
      files: { 'boards/kestrel.yaml': board },
      patient: 'board: {id: kestrel, rev: A}',
      donor: 'board: {id: kestrel, rev: B}',
    },
    ['`controller` is one of `WY-1`, `WY-2` on patient `d-0117` and `WY-3` (by board `kestrel`) on donor `d-0118`'],
  ],
  [
    'a revision of which nothing is recorded',
    { same: ['rev'] },
    { patient: 'board: {id: kestrel, rev: A}', files: { 'boards/kestrel.yaml': board } },
    ['`rev` is `kestrel/A` on patient `d-0117` and `?/?` on donor `d-0118`'],
  ],
  [
    'of what must hold together, only what fails',
    { same: ['heads', 'site'] },
    { patient: 'heads: 2\nsite: P', donor: 'heads: 4\nsite: P' },
    ['`heads` is `2` on patient `d-0117` and `4` on donor `d-0118`'],
  ],
  [
    'of what must not hold, what does',
    { none: [{ same: ['heads'] }, { same: ['site'] }] },
    { patient: 'heads: 2\nsite: P', donor: 'heads: 4\nsite: P' },
    ['`site` is `P` on patient `d-0117` and `P` on donor `d-0118`'],
  ],
];

describe('what makes a condition so', () => {
  it.each(cases)('%s', (_, condition, parts, expected) => {
    expect(reasons(condition, parts)).toEqual(expected);
  });
});
