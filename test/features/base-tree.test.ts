import { expect, it } from 'vitest';
import { treeChildren } from '../../server/src/core/features/base-tree.ts';
import { drained } from '../harness/drained.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const proved = 'controls: {donor_on_own_board: works, patient_on_own_board: works}\nrom_proved: read_back\n';

function outcome(id: string, more: string, patient = 'a', donor = 'b'): string {
  return `kind: outcome\nid: ${id}\ndate: 2026-03-14\npatient: ${patient}\ndonor: ${donor}\n${more}`;
}

const works = `${proved}rom: chip_moved\nreached: reads\nresult: works\n`;
const fails = `${proved}rom: left\nreached: spins\nresult: fails\n`;

const bench = {
  'makers.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families.yaml': [
    'kind: family\nid: tern-2\nmaker: wren\nname: tern 2\nadaptives: {stored_in: rom_chip}\n',
    'kind: family\nid: auk\nmaker: wren\nname: Tern 10\nretracted: {on: 2026-01-01, because: one with tern-2}\n',
    'kind: family\nid: skua\nmaker: wren\nname: Skua\nadaptives: {stored_in: platters}\n',
  ].join('---\n'),
  'boards.yaml':
    'kind: board\nid: w-1\nmaker: wren\npart_number: W 1\nfamilies: [tern-2]\nrevisions: [{rev: A}, {rev: B}]\n',
  'drives.yaml': [
    'kind: drive\nid: a\nfamily: tern-2\nmodel: T21\nboard: {id: w-1, rev: A}\n',
    'kind: drive\nid: b\nfamily: tern-2\nparts: board_only\n',
    'kind: drive\nid: c\nfamily: gannet\n',
    'kind: drive\nid: s\nfamily: skua\n',
    'kind: drive\nid: t\nfamily: skua\n',
  ].join('---\n'),
  'outcomes.yaml': [
    outcome('o-1', works),
    outcome('o-2', fails, 'b', 'a'),
    outcome('o-3', 'reached: spins\nresult: inconclusive\n'),
    outcome('o-4', `${works}retracted: {on: 2026-04-01, because: wrong drive}\n`),
    outcome('o-5', fails, 's', 't'),
    outcome('o-6', 'reached: reads\nresult: works\n', 'c', 'a'),
  ].join('---\n'),
  'rules.yaml': [
    'kind: rule\nid: tern-rom\napplies_to: {families: [tern-2]}\nclaim: needs\nwhen: {rom_travels: true}\n',
    'kind: rule\nid: wren-rev\napplies_to: {makers: [wren]}\nclaim: enough\nwhen: {same: [rev]}\n',
    'kind: rule\nid: any-rev\nclaim: enough\nwhen: {same: [rev]}\nretracted: {on: 2026-04-01, because: too wide}\n',
    'kind: rule\nid: gannet-rev\napplies_to: {families: [gannet]}\nclaim: enough\nwhen: {same: [rev]}\n',
  ].join('---\n'),
};

/** What stands below a node: labels, descriptions and icons. */
function below(key: string | undefined): string[] {
  return drained(treeChildren(key, snapshotOf(bench))).map(
    ({ label, description, icon }) => `${label} | ${description} | ${icon}`,
  );
}

it('begins with families by name, then makers, rules for everything, and what has no family', () => {
  expect(below(undefined)).toEqual([
    'Skua | 2 drives, 0 of 1 pair worked | family',
    'Tern 10 | retracted, 0 drives, no outcome yet | retracted',
    'tern 2 | 2 drives, 1 of 1 pair worked (ROM travelled), 0 of 1 (ROM did not travel) | family',
    'Makers | 1 | maker',
    'Rules for every family | 1 | rule',
    'Drives of no recorded family | 1 | drive',
    'Outcomes of no recorded family | 1: 1 works | outcome',
    'Rules for no recorded family | 1 | rule',
  ]);
});

it('shows in a family what belongs to it, and says what its outcomes come to', () => {
  expect(below('family/tern-2')).toEqual([
    'Boards | 1 | board',
    'Drives | 2 | drive',
    'Outcomes | 4: 1 works, 1 fails, 1 inconclusive, 1 retracted | outcome',
    'Rules | 2 | rule',
  ]);
  expect(below('family/auk')).toEqual([
    'Boards | none | board',
    'Drives | none | drive',
    'Outcomes | none | outcome',
    'Rules | 1 | rule',
  ]);
});

it('tells of records what they are and of outcomes and rules how they stand', () => {
  expect(below('family/tern-2/board')).toEqual(['w-1 | W 1, revisions A B | board']);
  expect(below('family/tern-2/drive')).toEqual(['a | T21, board w-1/A | drive', 'b | board only | drive']);
  expect(below('family/tern-2/outcome')).toEqual([
    'o-1 | works, reached reads, a with the board of b | works',
    'o-2 | fails, reached spins, b with the board of a | fails',
    'o-3 | inconclusive, reached spins, a with the board of b | inconclusive',
    'o-4 | retracted, reached reads, a with the board of b | retracted',
  ]);
  expect(below('family/tern-2/rule')).toEqual([
    'tern-rom | 2 outcomes in support · 0 against · 1 undecided | rule',
    expect.stringContaining('wren-rev | '),
  ]);
  expect(below('all/rule')).toEqual(['any-rev | retracted | retracted']);
  expect(below('base/maker')).toEqual(['wren | Wren | maker']);
});

it('has nothing below a record, or below what is not there', () => {
  for (const key of ['family/tern-2/drive/a', 'family/gannet', 'family/gannet/drive', 'odd', '']) {
    expect(below(key)).toEqual([]);
  }
});

it('says in words what icons show', () => {
  const spoken = (key?: string) => drained(treeChildren(key, snapshotOf(bench))).map((node) => node.spoken);
  expect(spoken()[0]).toBe('Family Skua, 2 drives, 0 of 1 pair worked');
  expect(spoken('family/skua')[1]).toBe('Drives, 2');
  expect(spoken('family/skua/drive')).toEqual(['Drive s', 'Drive t']);
});
