import { expect, it } from 'vitest';
import { TextDocument } from '../../server/src/lsp/text-document.ts';

it('takes a change without a range for the whole text, and mends a range that stands the wrong way round', () => {
  const document = new TextDocument('a:/b', 1, 'one\ntwo\n', 'utf-16');
  expect(document.with(2, [{ text: 'three' }]).text).toBe('three');
  const range = { start: { line: 1, character: 3 }, end: { line: 0, character: 3 } };
  expect(document.with(2, [{ range, text: ' and ' }]).text).toBe('one and \n');
  const outside = { start: { line: 9, character: 9 }, end: { line: 99, character: 0 } };
  expect(document.with(2, [{ range: outside, text: 'end' }]).text).toBe('one\ntwo\nend');
});
