import { expect, it } from 'vitest';
import { foldsOf } from '../../server/src/core/features/folds.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

/** The folds as first line and last line of each, `#` before those of comments. */
function folds(text: string): readonly string[] {
  const lines = text.split(/\r\n|\r|\n/);
  return foldsOf(readText(text).tape).map(({ kind, startLine, endLine }) => {
    return `${kind === 'comment' ? '# ' : ''}${lines[startLine]?.trim()} .. ${lines[endLine]?.trim()}`;
  });
}

it('folds records, maps, lists, their maps, and texts', () => {
  const text = `kind: board
id: kestrel
revisions:
  - rev: A1
    roms:
      - {location: u7}
  - rev: A2
notes: |
  one

  two

---
kind: drive
id: d-1
`;
  expect(folds(text)).toEqual([
    'kind: board .. two',
    'revisions: .. - rev: A2',
    '- rev: A1 .. - {location: u7}',
    'roms: .. - {location: u7}',
    'notes: | .. two',
    'kind: drive .. id: d-1',
  ]);
});

it('folds comments in a row, not a single one, and no text that looks like one', () => {
  const text =
    '# one\n# two\nkind: drive\nnotes: |\n  # a\n  # b\nsite: "x\n  # y\n  # z"\n  # only\n\n# end\n# of file';
  expect(folds(text)).toEqual([
    '# # one .. # two',
    'kind: drive .. # z"',
    'notes: | .. # b',
    'site: "x .. # z"',
    '# # end .. # of file',
  ]);
});

it('takes the outer of two that begin on one line, and follows any line end', () => {
  expect(folds('kind: rule\r\nwhen: {all: [\r\n  {rom_travels: true},\r\n ]}\r\n')).toEqual([
    'kind: rule .. ]}',
    'when: {all: [ .. ]}',
  ]);
  expect(folds('kind: drive\n')).toEqual([]);
});
