import { describe, expect, it } from 'vitest';
import type { Intent } from '../../server/src/core/edits/intent.ts';
import { planEdits } from '../../server/src/core/edits/plan-edits.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { edited, sort } from '../harness/edited-text.ts';

describe('sort members', () => {
  it.each<[string, string, Intent | readonly Intent[], string]>([
    ['the keys of a record', 'kind: outcome\nresult: works\nid: a\n', sort(), 'kind: outcome\nid: a\nresult: works\n'],
    [
      'comments behind values',
      'kind: outcome\nresult: works # r\nid: a # i\n',
      sort(),
      'kind: outcome\nid: a # i\nresult: works # r\n',
    ],
    [
      'comments above and below keys, and blank lines where they are',
      '# top\n\n# record\nkind: outcome\n# of r\nresult: works\n  # deeper\n\n# of i\nid: a\n# end\n',
      sort(),
      '# top\n\n# record\nkind: outcome\n# of i\nid: a\n\n# of r\nresult: works\n  # deeper\n# end\n',
    ],
    [
      'a comment on top with no key',
      '# top\nresult: works\nkind: outcome\n',
      sort(),
      '# top\nkind: outcome\nresult: works\n',
    ],
    [
      'a text without a last line end',
      'result: works\n\nkind: outcome\nid: a',
      sort(),
      'kind: outcome\n\nid: a\nresult: works',
    ],
    [
      'lines that end as in Windows',
      'result: works\r\n\r\n# c\r\nkind: outcome\r\nid: a',
      sort(),
      '# c\r\nkind: outcome\r\n\r\nid: a\r\nresult: works',
    ],
    [
      'no blank line twice',
      'result: works\n\n\n \t\nkind: outcome\n\n',
      sort(),
      'kind: outcome\n\n\n \t\nresult: works\n\n',
    ],
    [
      'a map inside alone',
      'kind: outcome\nresult: x\nhost:\n  # p\n  port: onboard\n  # n\n  name: b\n  zz: 1\n  aa: 2\nid: a\n',
      sort('host'),
      'kind: outcome\nresult: x\nhost:\n  # n\n  name: b\n  # p\n  port: onboard\n  zz: 1\n  aa: 2\nid: a\n',
    ],
    [
      'maps inside with the map',
      'kind: outcome\nhost:\n\n  # p\n  port: onboard\n\n  # n\n  name: b\nid: x\n',
      sort(),
      'kind: outcome\nid: x\nhost:\n\n  # n\n  name: b\n\n  # p\n  port: onboard\n',
    ],
    [
      'comments above the first key of a map inside',
      'kind: outcome\nhost:\r\n\r\n  # p\r\n  port: onboard\r\n\r\n  name: b\r\nid: x\r\n',
      sort('host'),
      'kind: outcome\nhost:\r\n\r\n  name: b\r\n\r\n  # p\r\n  port: onboard\r\nid: x\r\n',
    ],
    [
      'comments at the edge above the first key',
      'kind: outcome\nhost:\n# p\n  port: onboard\n\n  name: b\nid: x\n',
      sort('host'),
      'kind: outcome\nhost:\n  name: b\n\n# p\n  port: onboard\nid: x\n',
    ],
    [
      'maps between braces',
      'kind: outcome\nhost: { port: onboard,   name: b }\n',
      sort('host'),
      'kind: outcome\nhost: { name: b,   port: onboard }\n',
    ],
    [
      'maps between braces on several lines',
      '{result: works,\n  kind: outcome}\n',
      sort(),
      '{kind: outcome,\n  result: works}\n',
    ],
    [
      'maps in maps between braces',
      'kind: outcome\ncontrols: {patient_on_own_board: {b: 1}, donor_on_own_board: works}\nid: a\n',
      sort(),
      'kind: outcome\nid: a\ncontrols: {donor_on_own_board: works, patient_on_own_board: {b: 1}}\n',
    ],
    [
      'maps in lists',
      'kind: outcome\nidentity:\n  - after: "1"\n    value: serial\n  - # c\n    after: x\n    value: wwn\n  - value: a\n',
      sort(),
      'kind: outcome\nidentity:\n  - value: serial\n    after: "1"\n  - # c\n    value: wwn\n    after: x\n  - value: a\n',
    ],
    [
      'one map of a list',
      'kind: outcome\nidentity:\n  - after: "1"\n    # of v\n    value: serial # v\n  - after: x\n    value: wwn\n',
      sort('identity', 0),
      'kind: outcome\nidentity:\n  - # of v\n    value: serial # v\n    after: "1"\n  - after: x\n    value: wwn\n',
    ],
    [
      'a map behind a dash, comments and all',
      'kind: outcome\nidentity:\n- after: 2\n  # x\n\n  value: 1\n# y\nhost:\n  port: a\n  name: b\n',
      sort(),
      'kind: outcome\n# y\nhost:\n  name: b\n  port: a\nidentity:\n- # x\n\n  value: 1\n  after: 2\n',
    ],
    [
      'three keys behind a dash',
      'kind: outcome\nidentity:\n  - zz: 1\n    after: 2\n    value: 3\n',
      sort(),
      'kind: outcome\nidentity:\n  - value: 3\n    after: 2\n    zz: 1\n',
    ],
    [
      'block texts',
      'notes: |\n  # no comment\n  x\nid: q\nkind: outcome\n',
      sort(),
      'kind: outcome\nid: q\nnotes: |\n  # no comment\n  x\n',
    ],
    [
      'block texts that keep their blank lines',
      'notes: |+\n  x\n\nkind: outcome\n',
      sort(),
      'kind: outcome\nnotes: |+\n  x\n\n',
    ],
    [
      'a block text at the end without a line end',
      'kind: outcome\nnotes: >-\n  x\nid: q',
      sort(),
      'kind: outcome\nid: q\nnotes: >-\n  x',
    ],
    [
      'a later document',
      'id: a\n---\n# c\nid: b\nkind: outcome\n',
      { intent: 'sort', document: 1, path: [] },
      'id: a\n---\n# c\nkind: outcome\nid: b\n',
    ],
    [
      'a record that stands further right',
      '  result: works\n  kind: outcome\n',
      sort(),
      '  kind: outcome\n  result: works\n',
    ],
    [
      'a key that stands there twice',
      'result: works\nresult: x\nkind: outcome\n',
      sort(),
      'kind: outcome\nresult: works\nresult: x\n',
    ],
    [
      'no keys of a map that no schema knows',
      'kind: outcome\nid: b\nzz:\n  id: 1\n  aa: 2\n  kind: 3\n',
      sort(),
      'kind: outcome\nid: b\nzz:\n  id: 1\n  aa: 2\n  kind: 3\n',
    ],
    [
      'nothing where all is in order',
      'kind: outcome\nid:   a\nhost: {name: b}\nzz: 1\naa: 2\n',
      sort(),
      'kind: outcome\nid:   a\nhost: {name: b}\nzz: 1\naa: 2\n',
    ],
    [
      'an anchor on the first key where all is in order',
      '&x kind: outcome\nid: b\n',
      sort(),
      '&x kind: outcome\nid: b\n',
    ],
    [
      'aliases behind what they repeat',
      'result: &a works\nx-job: *a\nid: b\nkind: outcome\n',
      sort(),
      'kind: outcome\nid: b\nresult: &a works\nx-job: *a\n',
    ],
    [
      'past aliases outside the map',
      'kind: outcome\nid: &a x\nhost: {port: y, name: z}\nx-job: *a\n',
      sort('host'),
      'kind: outcome\nid: &a x\nhost: {name: z, port: y}\nx-job: *a\n',
    ],
    [
      'an alias of what stands above the map',
      'kind: outcome\nid: &a x\nhost: {port: *a, name: z}\n',
      sort('host'),
      'kind: outcome\nid: &a x\nhost: {name: z, port: *a}\n',
    ],
    [
      'aliases inside a value with what they repeat',
      'kind: outcome\nx-job: [&a x, *a]\nid: z\n',
      sort(),
      'kind: outcome\nid: z\nx-job: [&a x, *a]\n',
    ],
    [
      'nothing where an alias would stand before what it repeats',
      'result: &a works\nid: *a\nkind: outcome\n',
      sort(),
      'The alias `*a` would stand before what it repeats.',
    ],
    [
      'deeper comments with the key above them',
      'kind: outcome\nhost:\n  port: a\n    # of a\n  name: b\n    # of b\n',
      sort('host'),
      'kind: outcome\nhost:\n  name: b\n    # of b\n  port: a\n    # of a\n',
    ],
    [
      'a comment apart from the first key',
      'kind: outcome\nhost:\n  # p\n\n  port: a\n  name: b\n',
      sort('host'),
      'kind: outcome\nhost:\n  name: b\n  # p\n\n  port: a\n',
    ],
    [
      'an alias of what stands above, before others',
      'kind: outcome\nid: &a x\nhost: {port: y, name: *a}\n',
      sort('host'),
      'kind: outcome\nid: &a x\nhost: {name: *a, port: y}\n',
    ],
    [
      'what an alias below repeats',
      'kind: outcome\nhost: {port: &a y, name: z}\nx-job: *a\n',
      sort('host'),
      'kind: outcome\nhost: {name: z, port: &a y}\nx-job: *a\n',
    ],
    [
      'past anchors of one name that have nothing to do with it',
      'kind: outcome\nx-a: &a 1\nx-b: &a 2\nx-c: *a\nhost: {port: y, name: z}\n',
      sort('host'),
      'kind: outcome\nx-a: &a 1\nx-b: &a 2\nx-c: *a\nhost: {name: z, port: y}\n',
    ],
    [
      'nothing where an alias would come first',
      'kind: outcome\nhost: {port: &a y, name: *a}\n',
      sort('host'),
      'The alias `*a` would stand before what it repeats.',
    ],
    [
      'nothing where an alias inside a list would',
      'x-z: {y: &a works}\nkind: outcome\nrom: [*a]\n',
      sort(),
      'The alias `*a` would stand before what it repeats.',
    ],
    [
      'nothing where anchors have one name',
      'result: &a works\nreached: &a b\nx-job: *a\nid: b\nkind: outcome\n',
      sort(),
      'More than one value is marked for the alias `*a`; this has to be sorted by hand.',
    ],
    [
      'nothing where an outer alias repeats one of two anchors of a name',
      'kind: outcome\nhost: {port: &a y, name: &a z}\nx-job: *a\n',
      sort('host'),
      'More than one value is marked for the alias `*a`; this has to be sorted by hand.',
    ],
    [
      'other anchors beside the alias',
      'x-z: &a {y: 1}\nkind: outcome\nresult: &b 1\nid: c\nx-job: *a\n',
      sort(),
      'kind: outcome\nid: c\nresult: &b 1\nx-z: &a {y: 1}\nx-job: *a\n',
    ],
    [
      'nothing where a key has an anchor',
      'id: b\n&x kind: outcome\n',
      sort(),
      'A key here has an anchor, a tag or a `?` before it; this has to be edited by hand.',
    ],
    [
      'nothing where a comment stands between braces',
      'kind: outcome\nhost: {port: onboard, # c\n  name: b}\n',
      sort(),
      'Comments stand between braces, and which key they belong to cannot be told.',
    ],
    [
      'past a comment between braces where all is in order',
      'kind: outcome\nresult: works\nhost: {name: onboard, # c\n  port: b}\n',
      sort(),
      'kind: outcome\nhost: {name: onboard, # c\n  port: b}\nresult: works\n',
    ],
    [
      'nothing where a map inside cannot be sorted',
      'result: works\nkind: outcome\nhost: {port: onboard, # c\n  name: b}\n',
      sort(),
      'Comments stand between braces, and which key they belong to cannot be told.',
    ],
    ['no text', 'kind: outcome\nid: b\n', sort('id'), 'There is no map here whose keys could be sorted.'],
    [
      'no list',
      'kind: outcome\nidentity: [{value: 1, after: 2}]\n',
      sort('identity'),
      'There is no map here whose keys could be sorted.',
    ],
    [
      'nothing that is not there',
      'kind: outcome\nid: b\n',
      sort('no'),
      'There is no map here whose keys could be sorted.',
    ],
    [
      'a record and then the next intent',
      'result: works\nkind: outcome\n',
      [sort(), { intent: 'set', document: 0, path: ['result'], value: 'fails' }],
      'kind: outcome\nresult: fails\n',
    ],
  ])('puts in order %s', (_, text, intent, after) => expect(edited(text, ...[intent].flat())).toBe(after));

  it('touches nothing but what moves', () => {
    const text = 'kind: outcome\nhost: { port: a, name: b }\nresult: works\nreached: reads\n';
    const planned = planEdits({ tape: readText(text).tape, contentId: 'c' }, [sort()]);
    expect(planned).toEqual({
      contentId: 'c',
      edits: [
        { start: 22, end: 29, text: 'name: b' },
        { start: 31, end: 38, text: 'port: a' },
        { start: 41, end: 54, text: 'reached: reads' },
        { start: 55, end: 69, text: 'result: works' },
      ],
    });
  });
});
