import fc from 'fast-check';

/** Pieces that mean something to YAML, to a schema, or to a programming language. */
const pieces = [
  ...[
    '',
    '\n',
    '\r',
    '\r\n',
    '  ',
    '\t',
    ': ',
    '- ',
    '? ',
    ', ',
    '#',
    ' #',
    '"',
    "'",
    '{',
    '}',
    '[',
    ']',
    '|\n',
    '>-\n',
  ],
  ...['&a ', '*a', '&a *a', '!!str ', '!!int ', '!x ', '<<: ', '---\n', '...\n', '%YAML 1.1\n', '\\', '`', '@'],
  ...['null', '~', '.nan', '-.inf', '1e400', '-0', '0x1F', '0o17', 'true', '2012-08', '0007'],
  ...['é', '😀', '\u0000', '\ufeff', '\u2028', '\\ud800'],
  ...[
    'id: d-1\n',
    'kind: drive\n',
    'notes: 7\n',
    'x-a: ',
    '__proto__: ',
    'constructor',
    'length: 1\n',
    'retracted: {}\n',
  ],
];

/** A change to a text: some characters at a place, as a share of its length, are replaced by a piece. */
export interface Damage {
  readonly at: number;
  readonly cut: number;
  readonly piece: string;
}

/** One to four changes. */
export const arbitraryDamage: fc.Arbitrary<readonly Damage[]> = fc.array(
  fc.record({
    at: fc.integer({ min: 0, max: 9_999 }),
    cut: fc.oneof(fc.constant(0), fc.nat(6), fc.nat(60)),
    piece: fc.constantFrom(...pieces),
  }),
  { minLength: 1, maxLength: 4 },
);

/** The text after these changes. */
export function damageText(text: string, damage: readonly Damage[]): string {
  return damage.reduce((left, { at, cut, piece }) => {
    const start = Math.floor((left.length * at) / 10_000);
    return left.slice(0, start) + piece + left.slice(start + cut);
  }, text);
}
