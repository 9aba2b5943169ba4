import { expect, it } from 'vitest';
import { globTest } from '../../server/src/core/text/glob.ts';

it.each([
  ['a.yaml', ['a.yaml'], ['b.yaml', 'x/a.yaml', 'a.yaml/x', 'aXyaml', 'a.yamlx', '']],
  ['*.yaml', ['a.yaml', '.yaml', 'ä.yaml'], ['x/a.yaml', 'a.yml']],
  ['drafts/*', ['drafts/a', 'drafts/'], ['drafts', 'drafts/a/b', 'x/drafts/a']],
  ['drafts/**', ['drafts/', 'drafts/a', 'drafts/a/b.yaml'], ['drafts', 'draft', 'x/drafts/a']],
  ['**/drafts', ['drafts', 'a/drafts', 'a/b/drafts'], ['drafts/a', 'xdrafts', 'a/xdrafts']],
  ['**/*.yaml', ['a.yaml', 'x/a.yaml', 'x/y/a.yaml'], ['a.yml', 'x/a.yaml/b']],
  ['a/**/b', ['a/b', 'a/x/b', 'a/x/y/b'], ['ab', 'a/xb', 'b', 'x/a/b']],
  ['a/**/**/b', ['a/b', 'a/x/b', 'a/x/y/z/b'], ['ab', 'a/xb']],
  ['**', ['', 'a', 'a/b/c'], []],
  ['a**', ['a', 'ab', 'a/b'], ['ba']],
  ['?.yaml', ['a.yaml', 'é.yaml'], ['.yaml', 'ab.yaml', '/.yaml']],
  // One character is one character, however many UTF-16 units or bytes it takes.
  ['?', ['😀', '𣎴'], ['😀😀', 'a😀']],
  ['??', ['😀😀', 'a😀'], ['😀']],
  ['😀*', ['😀', '😀a'], ['😁a']],
  // What means something in a regular expression means itself here.
  ['a+b(c).[d]{1,2}^$|\\e', ['a+b(c).[d]{1,2}^$|\\e'], ['aab(c).[d]{1,2}^$|\\e', 'a+bc']],
  ['[ab]', ['[ab]'], ['a', 'b']],
  ['{a,b}', ['{a,b}'], ['a', 'b']],
  ['!a', ['!a'], ['a', 'b']],
  ['a-b c', ['a-b c'], ['a-b']],
  ['*', ['a', '', 'line\nbreak'], ['a/b']],
  ['**/b', ['line\nbreak/b', 'b'], ['line\nbreak']],
  ['', [''], ['a']],
  ['A.yaml', ['A.yaml'], ['a.yaml']],
])('%j', (pattern, matching, others) => {
  const test = globTest(pattern);
  expect(matching.filter((path) => !test(path))).toEqual([]);
  expect(others.filter((path) => test(path))).toEqual([]);
});
