import { expect, it } from 'vitest';
import { referencesAt } from '../../server/src/core/features/references.ts';
import { openAt } from '../harness/open-at.ts';
import { showPlaces } from '../harness/show-places.ts';

/** The references to what stands at `$0`. */
function references(files: Readonly<Record<string, string>>, withDeclaration = false): readonly string[] {
  const { file, offset } = openAt(files);
  return showPlaces(referencesAt(file, offset, { withDeclaration }), files);
}

const outcome = (id: string, patient: string, donor: string) =>
  `kind: outcome\nid: ${id}\ndate: 2026-03-14\npatient: ${patient}\ndonor: ${donor}\nreached: reads\nresult: works\n`;

it('lists references of the whole base, by file and document', () => {
  const files = {
    'o/b.yaml': `${outcome('o-2', 'd-2', 'd-1')}---\n${outcome('o-3', 'd-1', 'd-2')}`,
    'o/a.yaml': outcome('o-1', 'd-1', 'd-2'),
    'd.yaml': 'kind: drive\nid: d-$01\nfamily: tern-2\n---\nkind: drive\nid: d-2\nfamily: d-1\n',
  };
  const found = ['o/a.yaml:4: d-1', 'o/b.yaml:5: d-1', 'o/b.yaml:12: d-1'];
  expect(references(files)).toEqual(found);
  expect(references(files, true)).toEqual(['d.yaml:2: d-1', ...found]);
});

it('lists them from any reference, whether the record is there, missing, or there twice', () => {
  const files = {
    'a.yaml': outcome('o-1', 'd-1$0', 'd-2'),
    'b.yaml': outcome('o-1', 'd-3', 'd-1'),
    'c.yaml': outcome('o-2', 'd-1', 'd-3'),
  };
  const found = ['a.yaml:4: d-1', 'b.yaml:5: d-1', 'c.yaml:4: d-1'];
  expect(references(files, true)).toEqual(found);
  const twice = { ...files, 'd.yaml': 'kind: drive\nid: d-1\n', 'e.yaml': 'kind: drive\nid: d-1\n' };
  expect(references(twice, true)).toEqual(['d.yaml:2: d-1', 'e.yaml:2: d-1', ...found]);
});

it('lists who names a revision of a board, and counts BOARD/REV for the board too', () => {
  const files = (marked: (text: string) => string) => ({
    'board.yaml': marked(
      'kind: board\nid: kestrel\nmaker: wren\npart_number: K\nrevisions:\n- rev: A1\n- {rev: A2, drop_in_for: [A1]}\n',
    ),
    'drive.yaml':
      'kind: drive\nid: d-1\nboard: {id: kestrel, rev: a1}\n---\nkind: drive\nid: d-2\nboard: {id: other, rev: A1}\n',
    'rule.yaml': 'kind: rule\nid: r-1\nclaim: needs\nwhen: {patient: {rev: [kestrel/A1, kestrel/A2]}}\n',
  });
  expect(references(files((text) => text.replace('- rev: A1', '- rev: A1$0')))).toEqual([
    'board.yaml:7: A1',
    'drive.yaml:3: a1',
    'rule.yaml:4: kestrel/A1',
  ]);
  expect(references(files((text) => text.replace('id: kestrel', 'id: kestrel$0')))).toEqual([
    'drive.yaml:3: kestrel',
    'rule.yaml:4: kestrel/A1',
    'rule.yaml:4: kestrel/A2',
  ]);
});

it('looks into what is broken or has no id yet in the open file, and shows an alias as it stands', () => {
  const files = {
    'a.yaml':
      'kind: drive\nid: &a d-1$0\n---\nkind: outcome\nid: o-1\npatient: d-1\nverify: [\n---\nkind: outcome\ndonor: d-1\n',
    'b.yaml': 'kind: outcome\nid: o-2\nx-d: &d d-1\npatient: *d\n',
  };
  expect(references(files)).toEqual(['a.yaml:6: d-1', 'a.yaml:10: d-1', 'b.yaml:4: *d']);
});

it('lists nothing where nothing is named', () => {
  expect(references({ 'a.yaml': 'kind: drive\nid: d-1\nsite: $0d-1\n' }, true)).toEqual([]);
});
