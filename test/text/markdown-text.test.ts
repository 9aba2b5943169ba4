import { expect, it } from 'vitest';
import { markdownCode, markdownText } from '../../server/src/core/text/markdown-text.ts';

it.each([
  ['fits the second drive', 'fits the second drive'],
  ['  two\n\n lines\t', 'two lines'],
  ['2.5 mm, 50 % (about)', '2\\.5 mm, 50 % (about)'],
  ['1. - # > x', '1\\. - # \\> x'],
  ['[x](command:y)', '\\[x\\]\\(command\\:y\\)'],
  ['<b>&amp;', '\\<b\\>\\&amp;'],
  ['seen at https://a.example/b.', 'seen at `https://a.example/b.`'],
  ['ask me@a.example', 'ask `me@a.example`'],
  ['ends with \\', 'ends with \\\\'],
  ['', ''],
])('%j stands in running text as %j', (text, markdown) => {
  expect(markdownText(text)).toBe(markdown);
});

it.each([
  ['d-0117', '`d-0117`'],
  ['a`b', '``a`b``'],
  ['`a', '`` `a ``'],
  [' a ', '`  a  `'],
  ['  ', '`  `'],
  ['a|b', '`a`\\|`b`'],
  ['a\nb', '`a\\u000ab`'],
  ['', ''],
])('%j stands in code as %j', (text, markdown) => {
  expect(markdownCode(text)).toBe(markdown);
});
