import fc from 'fast-check';
import type { Intent, Value } from '../../server/src/core/edits/intent.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { childrenOf, type Path, type Tape } from '../../server/src/core/syntax/tape.ts';
import { laidOutYaml } from './arbitrary-laid-out-yaml.ts';
import { tidyYaml } from './arbitrary-yaml.ts';
import { readFixtures } from './fixtures.ts';

const texts = fc.oneof(
  fc.string({ maxLength: 10 }),
  fc.string({ maxLength: 6, unit: 'binary' }),
  fc.constantFrom(
    ...['line one\nline two\n', '\n lead', 'a\n\nb', 'x\n  deep\ny', 'a\nb ', '\ttab\nx', 'a\r\nb', 'end\n\n', '\n'],
    ...['0007', '0x1F', '1e3', 'no', '~', 'null', '.nan', 'true', '2026-03-14', '12:30', '', ' ', 'trail ', 'tab\tx'],
    ...[
      'a: b',
      '# no',
      'x # y',
      '- x',
      '-',
      '---',
      '...',
      'a, b',
      '[x',
      '}',
      'end:',
      '<<',
      '=',
      '? x',
      '*a',
      '&a',
      '!t',
    ],
    ...[
      "it's",
      'say "x"',
      '"',
      "'",
      '\\',
      '`x',
      '@x',
      '%x',
      '|',
      '>',
      'é😀',
      '\u00a0',
      '\u2028',
      '\ud800',
      '\ufeff',
      '\u202e',
    ],
    ...['chip_moved', '****4F2K', 'd-0118', '../photos/a.svg', 'http://x/y', 'Late issue: only eight legs.', '-5 V'],
    ...[
      'words of a longer text '.repeat(8).trimEnd(),
      'two  spaces here and there '.repeat(6),
      'long-word-'.repeat(15),
    ],
  ),
);

const scalars = fc.oneof(
  { weight: 3, arbitrary: texts },
  fc.integer(),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.boolean(),
);

const keys = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.constantFrom('kind', 'id', 'notes', 'rom', 'observed', 'x-job', 'rev', 'a', 'made', 'zz'),
  },
  { weight: 1, arbitrary: fc.string({ minLength: 1, maxLength: 8 }) },
);

/** Any value an edit may be asked to write. */
export const arbitraryValue = fc.letrec<{ value: Value }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 2 },
    { weight: 3, arbitrary: scalars },
    { weight: 1, arbitrary: fc.array(tie('value'), { maxLength: 3 }) },
    { weight: 1, arbitrary: fc.dictionary(keys, tie('value'), { maxKeys: 3, noNullPrototype: true }) },
  ),
})).value;

/** Texts as people and programs lay them out, and every text the project has. */
export const arbitraryFile: fc.Arbitrary<string> = fc.oneof(
  fc.constantFrom(...readFixtures().map(({ text }) => text)),
  fc.constantFrom(...readFixtures().map(({ text }) => text.replaceAll('\n', '\r\n'))),
  laidOutYaml,
  tidyYaml,
);

/** A text, one of its documents that can be edited, and a path in that. */
export interface Spot {
  readonly text: string;
  readonly tape: Tape;
  readonly document: number;
  readonly path: Path;
  /** What stands at the path, and in what. */
  readonly entry: number;
  readonly parent: number;
}

/** A place in a text, for `pick` a number of any size; undefined where the text has none that a path could mean and only one. */
export function spotOf(text: string, pick: number): Spot | undefined {
  const { tape } = readText(text);
  const spots = tape.documents.flatMap(({ root, isBroken }, document) =>
    root < 0 || isBroken ? [] : spotsBelow({ text, tape, document, path: [], entry: root, parent: -1 }),
  );
  return spots[pick % Math.max(spots.length, 1)];
}

function spotsBelow(spot: Spot): readonly Spot[] {
  const { tape, entry: parent, path } = spot;
  const children = [...childrenOf(tape, parent)];
  const names = children.map((child) => tape.entries[child]!.key);
  return children.flatMap((entry, position) => {
    const key = names[position];
    if (key !== undefined && names.filter((name) => name === key).length > 1) return [];
    const inner = { ...spot, path: [...path, key ?? position], entry, parent };
    return [inner, ...spotsBelow(inner)];
  });
}

const sorts = fc.constantFrom('set', 'set', 'add', 'insert', 'remove', 'rename', 'create');

/** One intent of any sort on a text that may refuse it. */
export const arbitraryIntent: fc.Arbitrary<{ readonly text: string; readonly intent: Intent }> = fc
  .tuple(arbitraryFile, fc.nat(), sorts, arbitraryValue, keys)
  .map(([text, pick, sort, value, key]) => ({ text, intent: intentOf(spotOf(text, pick), sort, value, key) }));

/** Some intents on one text, about few of its places, so that they get in each other's way. */
export const arbitraryIntents: fc.Arbitrary<{ readonly text: string; readonly intents: readonly Intent[] }> = fc
  .tuple(
    arbitraryFile,
    fc.array(fc.tuple(fc.nat(7), fc.oneof(fc.constantFrom('set', 'rename'), sorts), scalars, keys), {
      minLength: 2,
      maxLength: 5,
    }),
  )
  .map(([text, asked]) => ({
    text,
    intents: asked.map(([pick, sort, value, key]) => intentOf(spotOf(text, pick), sort, value, key)),
  }));

function intentOf(spot: Spot | undefined, sort: string, value: Value, key: string): Intent {
  if (!spot || sort === 'create') return { intent: 'create', value: { kind: 'drive', id: 'd-1', [key]: value } };
  const { document, path } = spot;
  if (sort === 'set') return { intent: 'set', document, path, value };
  if (sort === 'add') return { intent: 'set', document, path: [...path.slice(0, -1), key], value };
  if (sort === 'insert') {
    const step = path.at(-1);
    return {
      intent: 'insert',
      document,
      path: [...path.slice(0, -1), typeof step === 'number' ? step + (pick(key) % 2) : key],
      value,
    };
  }
  return sort === 'remove' ? { intent: 'remove', document, path } : { intent: 'rename', document, path, name: key };
}

function pick(key: string): number {
  return key.length;
}
