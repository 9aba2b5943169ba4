/** YAML as people lay it out: texts wrapped within and without quotes, lists and maps between brackets over several lines, comments, and spaces at ends of lines. Indents are seldom wrong. */
import fc from 'fast-check';

const words = ['chip', 'moved,', '0007', 'B-2', 'é', 'http://x/y', 'no', 'a', 'x-#1', '’'];

/** What may stand between two words of a text. */
const wordGap = fc.constantFrom(' ', ' ', ' ', ' ', '  ', '\n', '\n', '\n', ' \n', '\n\n', '\n \n', '\n\n\n');

/** What may stand before and after a bracket or a comma. */
const bracketGap = fc.oneof(
  {
    weight: 40,
    arbitrary: fc.constantFrom('', '', '', ' ', ' ', '\n', '\n', '\n\n', ' # note\n', ' # it"s: [a\n', '\n# c\n'),
  },
  // Right behind a bracket or a word this is no comment.
  { weight: 1, arbitrary: fc.constant('# c\n') },
);

function textOf(own: readonly string[]): fc.Arbitrary<string> {
  const word = fc.oneof(
    { weight: 16, arbitrary: fc.constantFrom(...words) },
    { weight: 1, arbitrary: fc.constantFrom(...own) },
  );
  return fc
    .array(fc.tuple(word, wordGap), { minLength: 1, maxLength: 6 })
    .map((parts) => parts.map(([first, gap], at) => (at === parts.length - 1 ? first : first + gap)).join(''));
}

/** Spaces and line breaks that a quoted text may begin or end with. */
const edge = fc.constantFrom('', '', '', '', ' ', '\n', ' \n', '\n\n');

function quoted(quote: string, own: readonly string[]): fc.Arbitrary<string> {
  return fc.tuple(edge, textOf(own), edge).map(([before, text, after]) => quote + before + text + after + quote);
}

const doubleQuoted = quoted('"', ['\\"', '\\\\', '\\n', '\\t x', '\\/', 'x\\', '\\u00e9', "it's", ': ', '# x', '']);
const singleQuoted = quoted("'", ["it''s", "''", '"', ': ', '# x', '\\', '']);
const plain = textOf(["it's", '- x', 'a:b', '#x', 'x # note', '-', '?', '~', 'say "x"', 'a: b', '']);

/** A block text: its lines may be deeper, blank, or blank with spaces. */
const block = fc
  .tuple(
    fc.constantFrom('|', '>', '|-', '>-', '|', '>', '|-', '>-', '> # note', '|+', '|2'),
    fc.array(fc.constantFrom('words of text', 'more', ' deep', '', '', ' ', '# no comment', '- x: 1', 'x '), {
      minLength: 1,
      maxLength: 6,
    }),
  )
  .map(([header, lines]) => [header, ...lines].join('\n'));

/** A value between brackets; the line breaks in it are indented later. */
const bracketed = fc.letrec<{ value: string }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 2 },
    { weight: 5, arbitrary: fc.constantFrom('x', 'chip moved', '0007', "it's", 'a:b', '"q, ]"', "'it''s'") },
    { weight: 1, arbitrary: fc.oneof(doubleQuoted, singleQuoted) },
    { weight: 3, arbitrary: enclosed('[', ']', tie('value')) },
    {
      weight: 2,
      arbitrary: enclosed(
        '{',
        '}',
        tie('value').map((value) => `k: ${value}`),
      ),
    },
  ),
})).value;

function enclosed(open: string, close: string, item: fc.Arbitrary<string>): fc.Arbitrary<string> {
  return fc
    .tuple(bracketGap, fc.array(fc.tuple(bracketGap, item, bracketGap), { maxLength: 3 }), fc.boolean())
    .map(([gap, items, isEnded]) => {
      const inside = items.map(([before, value, after]) => before + value + after).join(',');
      return open + gap + inside + (isEnded && items.length > 0 ? ',' : '') + close;
    });
}

const collection = fc.oneof(
  enclosed('[', ']', bracketed),
  enclosed(
    '{',
    '}',
    fc.tuple(bracketed).map(([value]) => `k: ${value}`),
  ),
);

/** Further lines of a value stand so much further right than what it belongs to; now and then not far enough. */
const step = fc.constantFrom(2, 2, 2, 2, 2, 2, 2, 2, 4, 4, 1, 0);

/** A comment that stands at the left edge, however deep what is around it. */
const leftComment = '# left';

/** What may stand between a key and its value on the lines below. */
const betweens: readonly (readonly string[])[] = [
  ...[[], [], [], [], [], [], ['']],
  ...[['# note'], [leftComment], [' # note'], ['', leftComment]],
];

const key = fc.constantFrom('a:', 'rev:', 'x-b:', 'B2:', 'a: # note');

/** A value as lines: what stands behind its key or dash, and what follows, indented against it; brackets may close at its left edge. */
const node = fc.letrec<{ node: readonly string[] }>((tie) => ({
  node: fc.oneof(
    { maxDepth: 3 },
    fc
      .tuple(fc.oneof(plain, doubleQuoted, singleQuoted, block, collection), step, fc.boolean())
      .map(([text, depth, isLeft]) =>
        text
          .split('\n')
          .map((line, at) => (at === 0 || (isLeft && /^[\]}]/.test(line)) ? line : indented(line, depth))),
      ),
    below(fc.oneof(plain, doubleQuoted, singleQuoted, collection).map((text) => [text.split('\n')])),
    below(fc.array(fc.tuple(key, tie('node')).map(marked), { minLength: 1, maxLength: 3 })),
    below(fc.array(fc.tuple(fc.constant('-'), tie('node')).map(marked), { minLength: 1, maxLength: 3 })),
  ),
})).node;

/** Parts on the lines below a key or dash. */
function below(parts: fc.Arbitrary<readonly (readonly string[])[]>): fc.Arbitrary<readonly string[]> {
  return fc
    .tuple(fc.constantFrom(...betweens), parts, step)
    .map(([before, inside, depth]) => ['', ...[before, ...inside].flat().map((line) => indented(line, depth))]);
}

function marked([mark, [first = '', ...rest]]: readonly [string, readonly string[]]): readonly string[] {
  return [first === '' ? mark : `${mark} ${first}`, ...rest];
}

function indented(line: string, depth: number): string {
  return line === '' || line === leftComment ? line : ' '.repeat(depth) + line;
}

/** Maps of a few keys, sometimes several documents, with comments between them. */
export const laidOutYaml: fc.Arbitrary<string> = fc
  .tuple(
    fc.array(
      fc.tuple(
        fc.constantFrom('kind', 'notes', 'x-job', 'host', 'rom', 'by', 'id', 'date', 'donor', '---', '# note'),
        node,
      ),
      {
        minLength: 1,
        maxLength: 4,
      },
    ),
    fc.constantFrom('\n', '\n', '\r\n'),
    fc.constantFrom('\n', '\n', '', '\n\n', ' \n'),
  )
  .map(([entries, lineBreak, end]) => {
    const lines = entries.flatMap(([name, value]) => (/^\w/.test(name) ? marked([`${name}:`, value]) : [name]));
    return (lines.join('\n') + end).replaceAll('\n', lineBreak);
  });
