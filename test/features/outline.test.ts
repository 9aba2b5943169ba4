import { expect, it } from 'vitest';
import { type OutlineItem, outlineOf } from '../../server/src/core/features/outline.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

/** The outline as indented lines: kind or shape, name, and the text the name stands at where that differs. */
function linesOf(text: string): readonly string[] {
  const describe = (item: OutlineItem, indent: string): string[] => {
    const { name, shape, detail, nameStart, nameEnd, children } = item;
    const typed = text.slice(nameStart, nameEnd);
    const line = `${indent}${detail ?? shape} ${name}${typed === name ? '' : ` (at ${typed})`}`;
    return [line, ...children.flatMap((child) => describe(child, `${indent}  `))];
  };
  return outlineOf(readText(text).tape).flatMap((item) => describe(item, ''));
}

it('lists the records of a file and the keys that hold more than one value', () => {
  const text = `kind: board
id: wren-7
maker: wren
revisions:
  - rev: A1
    roms: [{location: u7}]
  - {rev: A2}
---
kind: drive
id: "d-0117"
board: {id: wren-7}
`;
  expect(linesOf(text)).toEqual([
    'board wren-7',
    '  list revisions',
    '    list roms',
    'drive d-0117 (at "d-0117")',
    '  map board',
  ]);
});

it('names a record without an id by its kind, once, and a broken one by what can be read', () => {
  expect(linesOf('kind: drive\n---\nkind: maker\nid: wren\nouis: [\n')).toEqual([
    'record drive',
    'maker wren',
    '  list ouis',
  ]);
});

it('has a name for what has none', () => {
  expect(linesOf("id: ' '\n'': [a]\n")).toEqual(['record No kind (at )', `  list "" (at '')`]);
});

it('passes over documents that hold no map', () => {
  expect(linesOf('# nothing yet\n---\n- a\n---\n')).toEqual([]);
});

it('cuts names that nobody could read to their end, and shows what is not seen', () => {
  const [item] = outlineOf(readText(`kind: maker\nid: "${'x'.repeat(100_000)}"\n"a\u202eb": {c: 1}\n`).tape);
  expect(item?.name).toBe(`${'x'.repeat(79)}…`);
  expect(item?.children.map(({ name }) => name)).toEqual(['a\\u202eb']);
});
