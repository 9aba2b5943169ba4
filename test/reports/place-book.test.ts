import { expect, it } from 'vitest';
import { PlaceBook } from '../../server/src/core/reports/place-book.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

function show(text: string, start: number, end: number) {
  const book = new PlaceBook(new Map([['a.yaml', readText(text).tape]]));
  return book.show({ file: 'a.yaml', contentId: '', target: { start, end } });
}

it('shows the line around what is marked, without its indent', () => {
  expect(show('a:\n  b: cc # d  \n', 8, 10)).toEqual({
    file: 'a.yaml',
    line: 2,
    excerpt: { before: 'b: ', marked: 'cc', after: ' # d' },
  });
});

it('shows of several lines the first', () => {
  expect(show('a: |\n  b\n', 3, 9)?.excerpt).toEqual({ before: 'a: ', marked: '|', after: '' });
});

it('shows no empty line', () => {
  expect(show('a: 1\n   \nb: 2\n', 6, 6)).toEqual({ file: 'a.yaml', line: 2, excerpt: undefined });
});

it('cuts long lines, and no character in two', () => {
  const { before = '', marked = '', after = '' } = show(`# ${'😀'.repeat(250)}`, 202, 342)?.excerpt ?? {};
  expect([before, marked, after]).toEqual([`…${'😀'.repeat(30)}`, `${'😀'.repeat(59)}…`, `${'😀'.repeat(29)}…`]);
  const text = `# ${'😀'.repeat(50)}xx${'😀'.repeat(200)}`;
  const odd = show(text, text.indexOf('x') + 1, text.length)?.excerpt;
  // It throws where half a character stands alone.
  expect(() => encodeURIComponent(`${odd?.before}${odd?.marked}${odd?.after}`)).not.toThrow();
});

it('shows nothing of a file it has no text of', () => {
  expect(
    new PlaceBook(new Map()).show({ file: 'a.yaml', contentId: '', target: { start: 0, end: 1 } }),
  ).toBeUndefined();
});
