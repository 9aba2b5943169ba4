/** What fuzzing found, each with its input. */
import { expect, it } from 'vitest';
import { readFileFacts } from '../../server/src/core/model/file-facts.ts';
import { renderText } from '../../server/src/core/reports/render-text.ts';
import { readWithYaml } from '../../server/src/core/syntax/read-with-yaml.ts';
import { elementText, markdownText } from '../../server/src/core/text/markdown-text.ts';

it.each([
  ['kind: {a: 1}\nid: d-1\n', '{a: 1}'],
  ['kind: [{a: 1}]\nid: d-1\n', '[{a: 1}]'],
  ['kind:\n  a: 1\n  b: 2\nid: d-1\n', 'a: 1'],
  ['a: &k {b: 1}\nkind: *k\nid: d-1\n', '*k'],
])('a kind that is no text is refused: %j', (text, typed) => {
  const { records, bareIds, faults } = readFileFacts(new TextEncoder().encode(text));
  expect(records).toEqual([]);
  expect(bareIds).toEqual([{ kind: undefined, id: 'd-1' }]);
  expect(faults).toMatchObject([{ kind: 'schema', path: ['kind'], problem: { what: 'refused', typed } }]);
});

it('no value of a broken text ends before it begins', () => {
  const { entries } = readWithYaml('&]:').tape;
  expect(entries.filter(({ start, end }) => end < start)).toEqual([]);
});

it('an escape makes no address of what stands behind it', () => {
  expect(markdownText('\u001e.warning')).toBe('`\\u001e.warning`');
  expect(elementText('\u001e.warning')).toMatch(/^<code>/);
});

it('a title of a column cannot act on a terminal', () => {
  const columns = [{ title: 'a\u001b[31m', align: 'left' }] as const;
  const text = renderText([{ kind: 'table', caption: '', columns, rows: [] }], { width: 80, strong: String });
  expect(text).toBe('a\\u001b[31m\n');
});
