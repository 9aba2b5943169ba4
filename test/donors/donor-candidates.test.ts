import { expect, it } from 'vitest';
import { rankDonors } from '../../server/src/core/donors/rank-donors.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const bench = {
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families/all.yaml': ['tern-2', 'tern-3', 'gull']
    .map((id) => `kind: family\nid: ${id}\nmaker: wren\nname: ${id}\nadaptives: {stored_in: rom_chip}\n`)
    .join('---\n'),
  'boards/all.yaml': `kind: board
id: k-10
maker: wren
part_number: K-10
revisions: [{rev: A}]
---
kind: board
id: k-11
maker: wren
part_number: K-11
families: [tern-2, tern-3]
revisions: [{rev: A}]
---
kind: board
id: k-12
maker: wren
part_number: K-12
families: [gull]
revisions: [{rev: A}]
`,
  'drives/patient.yaml': 'kind: drive\nid: d-1\nfamily: tern-2\nboard: {id: k-10, rev: A}\n',
};

/** The ids of the drives that could lend their board to `d-1`. */
function lent(drive: string, more: Readonly<Record<string, string>> = {}): readonly string[] | undefined {
  const snapshot = snapshotOf({ ...bench, 'drives/d-2.yaml': `kind: drive\nid: d-2\n${drive}`, ...more });
  return rankDonors('d-1', snapshot)?.donors.map(({ swap }) => swap.donor.drive.id);
}

it.each([
  ['a spare drive of the family', 'family: tern-2\nshelf: {spare: true}\n', true],
  ['one that is not spare', 'family: tern-2\nshelf: {spare: false}\n', false],
  ['one of which that is not known', 'family: tern-2\n', false],
  ['a loose board of which that is not known', 'family: tern-2\nparts: board_only\n', true],
  ['a loose board that is not spare', 'family: tern-2\nparts: board_only\nshelf: {spare: false}\n', false],
  ['a head-disk assembly without its board', 'family: tern-2\nparts: hda_only\nshelf: {spare: true}\n', false],
  ['a faulty board', 'family: tern-2\nshelf: {spare: true}\ncondition: {board: faulty}\n', false],
  ['one whose condition cannot be read', 'family: tern-2\nshelf: {spare: true}\ncondition: {board: dead}\n', false],
  ['a retracted record', 'family: tern-2\nshelf: {spare: true}\nretracted: {on: 2026-01-02, because: no}\n', false],
  ['another family with the same board', 'family: gull\nshelf: {spare: true}\nboard: {id: k-10}\n', true],
  [
    'another family with a board said to be used here',
    'family: tern-3\nshelf: {spare: true}\nboard: {id: k-11}\n',
    true,
  ],
  ['another family with a board of its own', 'family: gull\nshelf: {spare: true}\nboard: {id: k-12}\n', false],
])('%s', (_, drive, isLent) => {
  expect(lent(drive)).toEqual(isLent ? ['d-2'] : []);
});

it('another family whose board a law says works', () => {
  const law = 'kind: rule\nid: r-1\nclaim: enough\nwhen: {donor: {board: k-12}}\n';
  expect(lent('family: gull\nshelf: {spare: true}\nboard: {id: k-12}\n', { 'rules/r.yaml': law })).toEqual(['d-2']);
});

it('a patient that is not recorded has no ranking', () => {
  expect(rankDonors('d-9', snapshotOf(bench))).toBeUndefined();
});

it('a rule that names what nobody recorded excludes nothing', () => {
  const law = 'kind: rule\nid: r-1\nclaim: prevents\nwhen: {none: [{donor: {board: k-99}}]}\n';
  const snapshot = snapshotOf({
    ...bench,
    'drives/d-2.yaml': 'kind: drive\nid: d-2\nfamily: tern-2\nshelf: {spare: true}\nboard: {id: k-10, rev: A}\n',
    'rules/r.yaml': law,
  });
  expect(rankDonors('d-1', snapshot)?.donors.map(({ verdict }) => verdict.group)).toEqual(['open']);
});
