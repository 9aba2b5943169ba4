import fc from 'fast-check';
import { stringify } from 'yaml';
import { laidOutYaml } from './arbitrary-laid-out-yaml.ts';

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
    'e"',
    '"x \\n y"',
    '"x \\" y"',
    '"x \\',
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

/** Lines of pieces that seldom fit together. */
export const wildYaml: fc.Arbitrary<string> = fc
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

/** What the `yaml` package writes. */
export const tidyYaml: fc.Arbitrary<string> = fc
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
export const spoiltYaml: fc.Arbitrary<string> = fc
  .tuple(
    fc.oneof(tidyYaml, laidOutYaml),
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
