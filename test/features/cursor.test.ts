import { expect, it } from 'vitest';
import { findCursor } from '../../server/src/core/features/cursor.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

/** What the cursor `$0` stands on, in short. */
function at(marked: string, path = 'a.yaml'): string {
  const text = marked.replace('$0', '');
  const cursor = findCursor({ path, tape: readText(text).tape }, marked.indexOf('$0'));
  if (!cursor) return 'nothing';
  const { document, node, path: keys, side, row } = cursor;
  return `${document} ${node ?? 'no kind'} ${keys.join('/')} ${side} (${row?.title ?? 'no such key'})`;
}

it('knows keys and values with what the schema says of the key', () => {
  expect(at('kind: drive\nboard: {r$0ev: A1}\n')).toBe('0 drive board/rev key (Revision)');
  expect(at('kind: drive\nboard: {rev: A1$0}\n')).toBe('0 drive board/rev value (Revision)');
  expect(at('kind: drive\n---\nkind: family\nmodels: [TN-1, T$0N-2]\n')).toBe(
    '1 family models/1 value (Model patterns)',
  );
});

it('takes the key that begins where block text ends', () => {
  expect(at('kind: drive\nnotes: |\n  one\n$0site: north\n')).toBe('0 drive site key (Site code)');
  expect(at('kind: drive\nnotes: |\n  o$0ne\nsite: north\n')).toBe('0 drive notes value (Notes)');
});

it('says nothing of gaps, comments and empty values', () => {
  expect(at('kind$0:  drive\n')).toBe('0 drive kind key (Record kind)');
  expect(at('kind:  $0 drive\n')).toBe('nothing');
  expect(at('kind: drive # sp$0are\nsite: north\n')).toBe('nothing');
});

it('knows the config by its path, and keys of no schema', () => {
  expect(at('swaplore: 1\nna$0me: Harbour\n', 'swaplore.yaml')).toBe('0 config name key (Base name)');
  expect(at('kind: drive\nx-shelf$0: 3\n')).toBe('0 drive x-shelf key (no such key)');
  expect(at('colour: bl$0ue\n')).toBe('0 no kind colour value (no such key)');
});
