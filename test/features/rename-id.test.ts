import { describe, expect, it } from 'vitest';
import { isRefusal, replaceIn } from '../../server/src/core/edits/text-edit.ts';
import { filesNaming, prepareRename, type RecordName, renameId } from '../../server/src/core/features/rename-id.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { contentIdOf } from '../../server/src/host/content-id.ts';
import { openAt } from '../harness/open-at.ts';
import { snapshotOf, type Texts } from '../harness/snapshot-of.ts';

const bench = {
  'board.yaml': 'kind: board\nid: w100 # ours\nmaker: wren\npart_number: w100\nrevisions: [{rev: A}]\n',
  'drive.yaml': 'kind: drive\nid: d-1\nfamily: tern\nboard: {id: "w100", rev: A, sticker: w100}\n',
  'family.yaml': "kind: family\nid: tern\nmaker: 'wren'\nname: tern\n---\nkind: maker\nid: wren\nname: Wren\n",
  'rule.yaml':
    "kind: rule\nid: tern-w100\napplies_to: {families: [tern]}\nclaim: needs\nwhen:\n  any:\n    - donor: {rev: [w100/A, 'w100/B', w1000/A]} # w100\n    - patient: {board: w100}\n",
};

function rename(files: Texts, { kind, id }: RecordName, newId: string): Record<string, string> | string {
  const snapshot = snapshotOf(files);
  const texts = new Map(
    filesNaming(snapshot, { kind, id }).map((path) => {
      const text = String(files[path]);
      return [path, { tape: readText(text).tape, contentId: contentIdOf(new TextEncoder().encode(text)) }];
    }),
  );
  const edits = renameId({ snapshot, kind, id, newId, texts });
  if (isRefusal(edits)) return edits.refused;
  return Object.fromEntries(edits.map(({ file, edits: ofFile }) => [file, replaceIn(String(files[file]), ofFile)]));
}

describe('rename', () => {
  it('goes wherever a board is named, in revisions too, and keeps quotes and comments', () => {
    expect(rename(bench, { kind: 'board', id: 'w100' }, 'w200')).toEqual({
      'board.yaml': 'kind: board\nid: w200 # ours\nmaker: wren\npart_number: w100\nrevisions: [{rev: A}]\n',
      'drive.yaml': 'kind: drive\nid: d-1\nfamily: tern\nboard: {id: "w200", rev: A, sticker: w100}\n',
      'rule.yaml':
        "kind: rule\nid: tern-w100\napplies_to: {families: [tern]}\nclaim: needs\nwhen:\n  any:\n    - donor: {rev: [w200/A, 'w200/B', w1000/A]} # w100\n    - patient: {board: w200}\n",
    });
  });

  it('quotes an id that would read as a number', () => {
    expect(rename(bench, { kind: 'maker', id: 'wren' }, '007')).toMatchObject({
      'board.yaml': 'kind: board\nid: w100 # ours\nmaker: "007"\npart_number: w100\nrevisions: [{rev: A}]\n',
      'family.yaml': 'kind: family\nid: tern\nmaker: \'007\'\nname: tern\n---\nkind: maker\nid: "007"\nname: Wren\n',
    });
  });

  it.each<[string, Texts, RecordName, string, string]>([
    [
      'a taken id',
      { ...bench, 'b.yaml': 'kind: board\nid: w200\n' },
      { kind: 'board', id: 'w100' },
      'w200',
      'The id `w200` is taken by another board.',
    ],
    [
      'an id of a file with a fault',
      { ...bench, 'b.yaml': 'kind: board\nid: w200\nx: [\n' },
      { kind: 'board', id: 'w100' },
      'w200',
      'The id `w200` is taken by another board.',
    ],
    [
      'a form the schema refuses',
      bench,
      { kind: 'board', id: 'w100' },
      'W 200',
      '`id` cannot be `W 200`; a lower-case id such as `tern-2` is needed.',
    ],
    [
      'nothing',
      bench,
      { kind: 'board', id: 'w100' },
      '',
      'The record has no `id`; a lower-case id such as `tern-2` is needed.',
    ],
    ['an id nobody has', bench, { kind: 'drive', id: 'd-9' }, 'd-8', 'No drive `d-9` is recorded.'],
    [
      'an id that two have',
      { ...bench, 'e.yaml': bench['drive.yaml'] },
      { kind: 'drive', id: 'd-1' },
      'd-8',
      'Several records have the id `d-1`; which of them others mean is not known.',
    ],
    [
      'a name in a file nobody can read',
      { ...bench, 'e.yaml': 'kind: outcome\npatient: d-1\nx: [\n' },
      { kind: 'drive', id: 'd-1' },
      'd-8',
      'e.yaml cannot be read as YAML and may name `d-1`; that has to be mended first.',
    ],
    [
      'an alias',
      { ...bench, 'e.yaml': 'kind: outcome\nid: o\npatient: &p d-1\ndonor: *p\n' },
      { kind: 'drive', id: 'd-1' },
      'd-8',
      'In e.yaml: The alias `*p` repeats this elsewhere, so it would change there too.',
    ],
  ])('says why %s is refused', (_, files, name, newId, words) => expect(rename(files, name, newId)).toBe(words));
});

describe('prepare rename', () => {
  const at = (text: string, isIndexed = true): unknown => {
    const { file, offset } = openAt({ ...bench, 'o.yaml': text }, { isIndexed });
    const found = prepareRename(file, offset);
    return isRefusal(found) ? found.refused : [found.kind, found.id, file.tape.text.slice(found.start, found.end)];
  };

  it.each([
    ['kind: outcome\nid: o$0ne\n', ['outcome', 'one', 'one']],
    ['kind: outcome\nid: one\npatient: "$0d-1"\n', ['drive', 'd-1', 'd-1']],
    ['kind: rule\nid: one\nwhen: {donor: {rev: w1$000/A}}\n', ['board', 'w100', 'w100']],
    [
      'kind: rule\nid: one\nwhen: {donor: {rev: w100/A$0}}\n',
      'A revision is renamed by hand: its name is that of one board only.',
    ],
    ['kind: outcome\nid: one\npatient: d-$09\n', 'No drive `d-9` is recorded.'],
    ['kind: outcome\nid: one\nrom: le$0ft\n', 'No id stands here.'],
    ['kind: outcome\ni$0d: one\n', 'No id stands here.'],
    [
      'kind: outcome\nid: one\npatient: &p d-1\ndonor: *$0p\n',
      'The id stands here by an alias; it is renamed where it is written.',
    ],
  ])('in %j', (text, found) => expect(at(text)).toEqual(found));

  it('waits until the base is read', () => {
    expect(at('kind: outcome\nid: o$0ne\n', false)).toBe(
      'The base is still being read, so not all that name this id are known yet.',
    );
  });
});
