import { keyNodes } from '../../schemas/gen/key-table.ts';

/** Tokens that mean something to YAML, and numbers at the ends of what computers count with. */
const tokens = [
  ...[
    '\n',
    '\r\n',
    '\r',
    '  ',
    '\t',
    ': ',
    '- ',
    '? ',
    ', ',
    ' # ',
    '"',
    "'",
    '{',
    '}',
    '[',
    ']',
    '{}',
    '[]',
    '|\n',
    '>-\n',
  ],
  ...[
    '|2+\n',
    '&a ',
    '*a',
    '!!str ',
    '!!int ',
    '!!binary ',
    '!x ',
    '<<: ',
    '---\n',
    '...\n',
    '%YAML 1.2\n',
    '\\u0000',
    '\\x',
    '~',
  ],
  ...[
    'null',
    '.nan',
    '-.inf',
    '1e400',
    '-0',
    '0x1F',
    '0o17',
    'true',
    'no',
    '0007',
    '2012-W53',
    '2012-08',
    '2024-02-30',
    '0000-01-01',
  ],
  ...[
    '9007199254740993',
    '-9007199254740993',
    '4294967296',
    '2147483648',
    '1e-320',
    '0.1',
    '65536',
    '255',
    '-1',
    '99999999999999999999',
  ],
  ...[
    'é',
    '😀',
    '\ufeff',
    '\u2028',
    '\u0085',
    '\u202e',
    '\u00a0',
    '\u0000',
    '__proto__: ',
    'constructor: ',
    'toString',
    'length: 1\n',
  ],
  ...['****4F2K', 'digest:', '0x5000', 'naa.', '../', '/', '.', '*', '?', '**/', '`', '<b>', '](', '$(', '\u001b[31m'],
] as const;

/** Every key of the schemas, as it is typed, and every value they list. */
const words = Object.values(keyNodes)
  .flat()
  .flatMap(({ name, values, examples }) => [
    `${name}: `,
    ...(values ?? []).map(({ value }) => value),
    ...examples.filter((one) => typeof one !== 'object').map(String),
  ]);

/** What mutations put in: tokens of YAML, limits of numbers, and all the schemas know. */
export const dictionary: readonly Uint8Array[] = [...new Set([...tokens, ...words])].map((word) =>
  new TextEncoder().encode(word),
);
