import { expect, it } from 'vitest';
import { definitionAt } from '../../server/src/core/features/definition.ts';
import { openAt } from '../harness/open-at.ts';
import { showPlaces } from '../harness/show-places.ts';

const base = {
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'boards/kestrel.yaml': `kind: board
id: kestrel
maker: wren
part_number: K-40
revisions:
  - rev: A1
  - {rev: "A2", drop_in_for: [A1]}
`,
  'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
};

/** Where the definition at `$0` leads in the base with one more file. */
function definition(text: string, path = 'open.yaml'): readonly string[] {
  const files = { ...base, [path]: text };
  const { file, offset } = openAt(files);
  return showPlaces(definitionAt(file, offset)?.places ?? [], files);
}

it('leads from a reference to the id of its record, in whatever file', () => {
  expect(definition('kind: drive\nid: d-1\nfamily: ter$0n-2\n')).toEqual(['families/tern.yaml:2: tern-2']);
  expect(definition('kind: drive\nid: d-1\nboard: {id: "kestrel$0"}\n')).toEqual(['boards/kestrel.yaml:2: kestrel']);
  const rule = 'kind: rule\nid: r-1\nclaim: needs\nwhen: {any: [{patient: {family: [tern-2$0]}}]}\n';
  expect(definition(rule)).toEqual(['families/tern.yaml:2: tern-2']);
});

it('leads from an id to itself', () => {
  expect(definition('kind: drive\nid: $0d-1\n')).toEqual(['open.yaml:2: d-1']);
});

it('leads from a revision to the list of its board, as values compare', () => {
  expect(definition('kind: drive\nid: d-1\nboard: {id: kestrel, rev: $0a2}\n')).toEqual([
    'boards/kestrel.yaml:7: "A2"',
  ]);
  expect(definition('kind: drive\nid: d-1\nboard: {id: kestrel, rev: $0B9}\n')).toEqual([]);
  const claim = base['boards/kestrel.yaml'].replace('[A1]', '[A1$0]');
  expect(definition(claim, 'boards/kestrel.yaml')).toEqual(['boards/kestrel.yaml:6: A1']);
});

it('leads from each part of BOARD/REV to what it names', () => {
  const rule = (rev: string) => `kind: rule\nid: r-1\nclaim: needs\nwhen: {donor: {rev: ${rev}}}\n`;
  expect(definition(rule('kest$0rel/A1'))).toEqual(['boards/kestrel.yaml:2: kestrel']);
  expect(definition(rule('kestrel/$0A1'))).toEqual(['boards/kestrel.yaml:6: A1']);
  expect(definition(rule('"kestrel/A1$0"'))).toEqual(['boards/kestrel.yaml:6: A1']);
});

it('leads from an alias to its anchor', () => {
  expect(definition('kind: drive\nid: d-1\nx-a: &fam !!str tern-2\nfamily: *f$0am\n')).toEqual(['open.yaml:3: &fam']);
  expect(definition('kind: drive\nid: d-1\nboard: *no$0ne\n')).toEqual([]);
});

it('offers every record that has the id, the one that stands first', () => {
  const text = 'kind: maker\nid: wren\nname: Again\n---\nkind: family\nid: f\nmaker: $0wren\n';
  expect(definition(text)).toEqual(['makers/wren.yaml:2: wren', 'open.yaml:2: wren']);
});

it('works in records that are broken or have no id yet', () => {
  expect(definition('kind: outcome\npatient: d-1$0\n---\nkind: drive\nid: d-1\nserial: [\n')).toEqual([
    'open.yaml:5: d-1',
  ]);
});

it('leads to the beginning of a file in which the id can be seen but not read', () => {
  const files = { 'drives/d.yaml': 'kind: drive\nid: d-1\nserial: [\n', 'a.yaml': 'kind: outcome\npatient: $0d-1\n' };
  const { file, offset } = openAt(files);
  expect(definitionAt(file, offset)?.places.map(({ file: path, target }) => [path, target])).toEqual([
    ['drives/d.yaml', { start: 0, end: 0 }],
  ]);
});

it('leads nowhere from keys, other values, comments and ids that nobody recorded', () => {
  expect(definition('kind: drive\nid: d-1\nfam$0ily: tern-2\n')).toEqual([]);
  expect(definition('kind: drive\nid: d-1\nsite: $0tern-2\n')).toEqual([]);
  expect(definition('kind: drive # tern$0-2\nid: d-1\n')).toEqual([]);
  expect(definition('kind: drive\nid: d-1\nfamily: tern-$03\n')).toEqual([]);
  expect(definition('swaplore: 1\nid: $0wren\n', 'swaplore.yaml')).toEqual([]);
});
