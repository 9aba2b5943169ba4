import { expect, it } from 'vitest';
import { rankDonors } from '../../server/src/core/donors/rank-donors.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const bench = {
  'all.yaml': `kind: family
id: tern-2
maker: wren
name: Tern 2
adaptives: {stored_in: rom_chip}
---
kind: drive
id: d-2
family: tern-2
`,
};

function stateOf(patient: string, outcomes: readonly string[] = []) {
  const snapshot = snapshotOf({
    ...bench,
    'd.yaml': `kind: drive\nid: d-1\nfamily: tern-2\n${patient}`,
    'o.yaml': outcomes
      .map((more, n) => `kind: outcome\nid: o-${n + 1}\npatient: d-1\ndonor: d-2\n${more}result: inconclusive\n`)
      .join('---\n'),
  });
  return rankDonors('d-1', snapshot)!.state;
}

const clicked = 'date: 2026-03-14\nobserved: {sound: clicking}\nreached: spins\n';

it.each([
  ['clicking with its own adaptives', [`${clicked}rom: chip_moved\n`], ['o-1']],
  ["clicking with another drive's", [`${clicked}rom: left\n`], []],
  ['clicking with whose is not known', [clicked], []],
  ['beeping with any', ['date: 2026-03-14\nobserved: {sound: beeping}\nreached: nothing\nrom: left\n'], ['o-1']],
  [
    'clicking before it worked',
    [`${clicked}rom: chip_moved\n`, 'date: 2026-03-15\nrom: chip_moved\nreached: reads\n'],
    [],
  ],
  [
    'clicking after it worked',
    ['date: 2026-03-13\nrom: chip_moved\nreached: reads\n', `${clicked}rom: chip_moved\n`],
    ['o-2'],
  ],
])('what points inside: %s', (_, outcomes, expected) => {
  expect(stateOf('', outcomes).inside.map(({ outcome }) => outcome)).toEqual(expected);
});

it('what points inside, by its own record', () => {
  expect(stateOf('condition: {media: failed}\n').inside).toEqual([
    { outcome: undefined, says: 'its heads or platters are `failed`' },
  ]);
  expect(stateOf('condition: {media: good}\n').inside).toEqual([]);
});

it.each([
  ['supply_5v: shorted, motor_windings: ok, head_lines: ok', false, true],
  ['supply_5v: shorted', true, true],
  ['supply_5v: shorted, parts_burnt: true, motor_windings: ok, head_lines: ok', false, false],
  ['supply_5v: shorted, motor_windings: shorted, head_lines: ok', true, false],
  ['supply_5v: open', false, false],
  ['contacts: burnt, motor_windings: ok', true, false],
  ['head_lines: open', false, false],
])('examined: %s', (readings, isMeasuredFirst, mayBeDiode) => {
  const { examination: _, ...state } = stateOf(`examined: [{on: 2026-03-01, ${readings}}]\n`);
  expect(state).toMatchObject({ isMeasuredFirst, mayBeDiode });
});

it('asks for windings and head lines again after a board has burnt', () => {
  const sound = '{on: 2026-03-01, motor_windings: ok, head_lines: ok}';
  const burnt = '{on: 2026-03-02, parts_burnt: true}';
  expect(stateOf(`examined: [${sound}, ${burnt}]\n`).isMeasuredFirst).toBe(true);
  expect(stateOf(`examined: [${burnt}, ${sound.replace('-01', '-03')}]\n`).isMeasuredFirst).toBe(false);
});

it('takes what cannot be read for anything it may say', () => {
  const sound = 'parts_burnt: true, motor_windings: ok, head_lines: ok';
  expect(stateOf(`examined: [{on: 2026-03-01, ${sound}}]\n`).isMeasuredFirst).toBe(false);
  expect(stateOf(`examined: [{on: 2026-03-01, ${sound}}, {on: 2026-03-02, head_lines: dead}]\n`).isMeasuredFirst).toBe(
    true,
  );
});
