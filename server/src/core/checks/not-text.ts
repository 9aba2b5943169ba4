import { defineCheck } from './define-check.ts';
import { describeFaults } from './fault-check.ts';

/** Bytes that are no UTF-8 text. */
export const notText = defineCheck({
  check: 'not-text',
  group: 'file',
  severity: 'error',
  scope: 'file',
  why: 'A file in another encoding, or one with NUL in it, is read differently by every program. Names and notes in it may already be damaged, and nobody can say which ids it holds.',
  examples: () => [
    {
      title: 'A NUL character',
      files: { 'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wr\u0000en\n' },
      wholeFile: ['makers/wren.yaml: not-text: The file is not text: it holds a NUL character at offset 29.'],
    },
    {
      title: 'Letters of any language are text',
      files: { 'makers/wren.yaml': 'kind: maker\nid: wren\nname: Zaunkönig 鷦鷯 🐦\n' },
    },
  ],
  run: describeFaults('not-text', (fault, file) => ({
    at: { file: file.path, start: 0, end: 0 },
    message: `The file is not text: ${fault.reason}.`,
    help: 'Save it as UTF-8.',
  })),
});
