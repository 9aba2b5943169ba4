import { expect, it } from 'vitest';
import { enclosingSpans } from '../../server/src/core/features/enclosing-spans.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

/** What is selected from the cursor `$0` outwards, as text. */
function selections(marked: string): readonly string[] {
  const text = marked.replace('$0', '');
  return enclosingSpans(readText(text).tape, marked.indexOf('$0')).map(({ start, end }) => text.slice(start, end));
}

it('grows from a value over its pair and its map to the document and the text', () => {
  expect(selections('# a drive\nkind: drive\nboard: {id: wren-7, rev: A$01}\n---\nkind: maker\n')).toEqual([
    'A1',
    'rev: A1',
    '{id: wren-7, rev: A1}',
    'board: {id: wren-7, rev: A1}',
    'kind: drive\nboard: {id: wren-7, rev: A1}',
    '# a drive\nkind: drive\nboard: {id: wren-7, rev: A1}\n---\nkind: maker\n',
  ]);
});

it('begins with the key where the cursor stands on one', () => {
  expect(selections('kind: drive\nsi$0te: north\n').slice(0, 2)).toEqual(['site', 'site: north']);
});

it('enters the items of a list', () => {
  expect(selections('models: [TN-1, T$0N-2]\n').slice(0, 3)).toEqual(['TN-2', '[TN-1, TN-2]', 'models: [TN-1, TN-2]']);
});

it('is the text alone in a comment outside all records', () => {
  expect(selections('# not$0hing yet\n')).toEqual(['# nothing yet\n']);
});
