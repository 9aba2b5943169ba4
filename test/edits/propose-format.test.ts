import { describe, expect, it } from 'vitest';
import { proposeFormat } from '../../server/src/core/edits/propose-format.ts';
import { replaceIn } from '../../server/src/core/edits/text-edit.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

/** The text as proposed, before anybody has read it again; undefined where nothing is proposed. */
function proposed(text: string): string | undefined {
  const edits = proposeFormat({ tape: readText(text).tape, span: { start: 0, end: text.length }, lineBreak: '\n' });
  return edits && replaceIn(text, edits);
}

describe('propose format', () => {
  it.each([
    ['what begins behind `---`', '--- a: 1\n'],
    ['a list behind `---`', '---   - a\n    - b\n'],
    ['keys after `?`', '? a\n: 1\n'],
    ['quoted keys over lines', '{"a\n b": 1}\n'],
    ['keys that are empty', ': 1\n'],
    ['keys that are empty, between brackets', '{: 1}\n'],
    ['`...`', 'a: 1\n...\n'],
    ['directives', '%YAML 1.2\n---\na: 1\n'],
    ['lists as keys', 'a: [ a ]: 1\n'],
  ])('proposes nothing for %s', (_, text) => expect(proposed(text)).toBe(undefined));

  it.each([
    ['"x\ny"\n', '"x\n y"\n'],
    ['x\ny\n', 'x\ny\n'],
    ['[x\ny]\n', '[x\n  y]\n'],
    ['"":   1\n', '"": 1\n'],
    ['a: !<x>  1\n', 'a: !<x> 1\n'],
    ['a: !<x,y>  1\n', 'a: !<x,y> 1\n'],
    ['[!x]\n', '[!x]\n'],
    ['- &a b:   1\n  &c d: 2\n', '- &a b: 1\n  &c d: 2\n'],
    ['a:\n    &b c: 1\n    !d e: 2\n', 'a:\n  &b c: 1\n  !d e: 2\n'],
    ['a:\n    &b !!str c: 1\n    e: 2\n', 'a:\n  &b !!str c: 1\n  e: 2\n'],
    ['- &a\n  b: 1\n', '- &a\n  b: 1\n'],
    ['a: &x\n- b\n', 'a: &x\n  - b\n'],
    ['a: &x\n    b: &y\n        c: 1\n', 'a: &x\n  b: &y\n    c: 1\n'],
    ['--- &x\n    a:  1\n', '--- &x\na: 1\n'],
    [
      'a:\n    b: |\n      x\n    c:\n        d: {e: 1}\n    f: 1\n',
      'a:\n  b: |\n    x\n  c:\n    d: { e: 1 }\n  f: 1\n',
    ],
    ['a: {b: 1}\nc:\n    d: 1\n', 'a: { b: 1 }\nc:\n  d: 1\n'],
    ['a: {b: {c: 1}}\nd:\n    - e: {f: 1}\n      g: 1\n', 'a: { b: { c: 1 } }\nd:\n  - e: { f: 1 }\n    g: 1\n'],
    ['a: |2\n  x\nb:\n    c: 1\n', 'a: |2\n  x\nb:\n  c: 1\n'],
    [
      'a:\n    b:\n        c: |2\n          x\n    d:\n        e: 1\n',
      'a:\n    b:\n        c: |2\n          x\n    d:\n      e: 1\n',
    ],
    ['a:\n    b: |+1\n     x\n', 'a:\n    b: |+1\n     x\n'],
    ['a:\n    b: x---y\n    c---: 1\n', 'a:\n  b: x---y\n  c---: 1\n'],
    ['a:\n    b: |-\n      1\n', 'a:\n  b: |-\n    1\n'],
  ])('proposes for %j %j', (text, after) => expect(proposed(text)).toBe(after));
});
