import fc from 'fast-check';
import { keyNodes } from '../../schemas/gen/key-table.ts';
import { kinds } from '../../server/src/core/terms/kinds.ts';

const scalars = [
  ...['.nan', '.inf', '-.INF', '1e400', '-0', '0x1F', '0o17', '0007', '+5', '1.', '.5', 'true', '~', '', '""'],
  ...[
    'text',
    '2012-08-03',
    '2012-W31',
    '"\\ud800"',
    '!!str 7',
    '!!float 7',
    '!!int .nan',
    '&a 9',
    '&a .nan',
    '*a',
    '*a',
    "'it''s'",
  ],
];

const values = fc.letrec<{ value: string }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    { weight: 4, arbitrary: fc.constantFrom(...scalars) },
    { weight: 1, arbitrary: fc.array(tie('value'), { maxLength: 3 }).map((items) => `[${items.join(', ')}]`) },
    {
      weight: 1,
      arbitrary: fc
        .array(fc.tuple(fc.constantFrom('a', 'x-b', 'id', 'rev', '__proto__'), tie('value')), { maxLength: 3 })
        .map((entries) => `{${entries.map(([key, value]) => `${key}: ${value}`).join(', ')}}`),
    },
  ),
})).value;

/** Records of any kind whose keys are known ones with values that seldom suit them, and some of the shop's own. */
export const arbitraryOddity: fc.Arbitrary<string> = fc
  .constantFrom(...kinds)
  .chain((kind) => {
    const names = (keyNodes[kind] ?? []).map((row) => row.name);
    const keys = fc.constantFrom(...names, ...names, 'x-a', 'x-a', 'x-b', 'constructor', '__proto__');
    return fc
      .uniqueArray(fc.tuple(keys, values), { selector: ([key]) => key, maxLength: 5 })
      .map((entries) => ({ kind, entries }));
  })
  .map(({ kind, entries }) => {
    const lines = entries.map(([key, value]) => `${key}: ${value}\n`);
    return `kind: ${kind}\nid: d-1\n${lines.join('')}`;
  });
