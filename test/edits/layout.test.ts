import { describe, expect, it } from 'vitest';
import { type Layout, layoutOf } from '../../server/src/core/edits/layout.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

const usual: Layout = { mapStep: 2, listStep: 2, isPadded: true };

describe('the habits of a file', () => {
  it.each<[string, Partial<Layout>]>([
    ['', {}],
    ['a: 1\n', {}],
    ['a:\n    b: 1\n', { mapStep: 4 }],
    ['a:\n b: 1\n', { mapStep: 1 }],
    ['a:\n   b:\n     c: 1\n', { mapStep: 3 }],
    ['a:\n    b: 1\nc:\n  d: 1\n', { mapStep: 4 }],
    ['a:\n- b\n', { listStep: 0 }],
    ['a:\n    - b\n', { listStep: 4 }],
    ['a:\n - b\nc:\n- d\n', { listStep: 1 }],
    ['a:\n- b: 1\n  c:\n     d: 1\n', { listStep: 0, mapStep: 3 }],
    ['- a:\n      b: 1\n', { mapStep: 4 }],
    ['- - a\n', {}],
    ['    - a\n', {}],
    ['-     a: 1\n', {}],
    ['a: {b: 1}\n', { isPadded: false }],
    ['a: { b: 1 }\nc: {d: 1}\n', { isPadded: true }],
    ['a: {b: 1}\nc: { d: 1 }\n', { isPadded: false }],
    ['a: {\n  b: 1 }\n', { isPadded: false }],
    ['a: {}\nb: []\nc: [ d ]\ne:\n', {}],
    ['a: [{b: 1}]\n', { isPadded: false }],
    ['      {a: 1}\n', { isPadded: false }],
    ['a: [b: [c]]\n', {}],
    ['? a\n:  b: 1\n   c:\n     - d\n', { mapStep: 1 }],
    ['? {a: 1}\n:\n  b: 1\n', {}],
    ['a: |\n      b\n', {}],
  ])('are seen in %j', (text, habits) => {
    expect(layoutOf(readText(text).tape)).toEqual({ ...usual, ...habits });
  });
});
