import fc from 'fast-check';
import type { Finding, Place } from '../../server/src/core/checks/finding.ts';
import type { Block, Cell } from '../../server/src/core/reports/document.ts';
import type { Mark } from '../../server/src/core/reports/drawing.ts';
import { nameOfFamily } from '../../server/src/core/reports/report-name.ts';
import { severities } from '../../server/src/core/terms/severities.ts';

/** Pieces that begin, end or are mark-up in HTML, in its attributes, styles and scripts, or that nobody would see. */
const pieces = [
  ...[
    '<',
    '>',
    '&',
    '"',
    "'",
    '/',
    '=',
    '`',
    '``',
    ' ',
    '\t',
    '\n',
    '\r\n',
    '\u0000',
    '\u001b[31m',
    '\u0085',
    '\u2028',
  ],
  ...['\u202e', '\u2066', '\u200f', '\u061c', '\u00a0', '\ufeff', '\ud800', '😀', 'é', 'a', 'rev', 'A1', '0'],
  ...['<b>', '</b>', '</p>', '</td></tr></table>', '<p>', '<li>', '<script>alert(1)</script>', '</script>', '</style>'],
  ...[
    '</title>',
    '</main>',
    '</body></html>',
    '<!--',
    '-->',
    '<!doctype html>',
    '<![CDATA[',
    ']]>',
    '<?',
    '<svg/onload=a>',
  ],
  ...['" onclick="alert(1)', "' autofocus onfocus='a", '&lt;', '&amp;', '&#60;', '&#x3c;', '&nbsp', '&copy'],
  ...['javascript:alert(1)', 'command:x', 'https://a.example', '//a.example', '#', '?', '%3c', '../', 'data:,a'],
];

/** Text that tries to be more than text. */
const arbitraryHostileText = fc.oneof(
  fc.array(fc.constantFrom(...pieces), { maxLength: 6 }).map((parts) => parts.join('')),
  fc.string({ unit: 'binary' }),
);

/** A few files whose names and texts are hostile. */
export interface HostileFiles {
  readonly paths: readonly string[];
  readonly texts: Readonly<Record<string, string>>;
}

/** Files by path; some have no text. */
const arbitraryHostileFiles: fc.Arbitrary<HostileFiles> = fc
  .array(fc.tuple(arbitraryHostileText, fc.option(arbitraryHostileText)), { minLength: 1, maxLength: 4 })
  .map((files) => ({
    paths: files.map(([path]) => path),
    texts: Object.fromEntries(files.flatMap(([path, text]) => (text === null ? [] : [[path, text]]))),
  }));

/** A document with the files its places are in. */
export const arbitraryReport: fc.Arbitrary<{ readonly files: HostileFiles; readonly blocks: readonly Block[] }> =
  arbitraryHostileFiles.chain((files) =>
    fc.record({
      files: fc.constant(files),
      blocks: fc
        .tuple(arbitraryHostileText, fc.array(arbitraryBlock(arbitraryPlace(files)), { maxLength: 6 }))
        .map(([text, rest]): readonly Block[] => [{ kind: 'heading', level: 1, text }, ...rest]),
    }),
  );

function arbitraryPlace({ paths }: HostileFiles): fc.Arbitrary<Place> {
  return fc.record({
    file: fc.constantFrom(...paths),
    contentId: fc.constant(''),
    target: fc.tuple(fc.nat(20), fc.nat(20)).map(([start, length]) => ({ start, end: start + length })),
  });
}

function arbitraryBlock(place: fc.Arbitrary<Place>): fc.Arbitrary<Block> {
  const text = arbitraryHostileText;
  const constant = <const Value>(value: Value) => fc.constant(value);
  const cell = fc.oneof<fc.Arbitrary<Cell>[]>(
    text,
    fc.nat(),
    fc.record({ text, place }),
    fc.record({ text, report: text.map(nameOfFamily) }),
  );
  return fc.oneof<fc.Arbitrary<Block>[]>(
    fc.record({ kind: constant('heading'), level: constant(2), text }),
    fc.record({ kind: constant('paragraph'), text }),
    fc.record({ kind: constant('caution'), text }),
    fc.record({
      kind: constant('items'),
      items: fc.array(
        fc.record({ name: text, lines: fc.array(text, { maxLength: 2 }), place: fc.option(place, { nil: undefined }) }),
        { maxLength: 2 },
      ),
    }),
    fc.record({ kind: constant('findings'), findings: fc.array(arbitraryFinding(place), { maxLength: 3 }) }),
    fc.record({ kind: constant('checks'), checks: fc.array(fc.record({ check: text, why: text }), { maxLength: 2 }) }),
    fc.record({
      kind: constant('table'),
      caption: text,
      columns: fc.array(fc.record({ title: text, align: fc.constantFrom('left' as const, 'right' as const) }), {
        minLength: 1,
        maxLength: 3,
      }),
      rows: fc.array(fc.array(cell, { minLength: 3, maxLength: 3 }), { maxLength: 3 }),
    }),
    fc.record({
      kind: constant('figure'),
      caption: text,
      description: text,
      drawing: fc.record({
        width: fc.nat(),
        height: fc.nat(),
        marks: fc.array(arbitraryMark(text), { maxLength: 4 }),
      }),
      lines: fc.array(text, { maxLength: 2 }),
    }),
  );
}

function arbitraryMark(text: fc.Arbitrary<string>): fc.Arbitrary<Mark> {
  const tone = fc.constantFrom('value' as const, 'alarm' as const, 'scale' as const);
  const point = fc.tuple(fc.nat(), fc.nat());
  return fc.oneof<fc.Arbitrary<Mark>[]>(
    fc.record({
      shape: fc.constant('bar' as const),
      tone,
      x: fc.nat(),
      y: fc.nat(),
      width: fc.nat(),
      height: fc.nat(),
    }),
    fc.record({
      shape: fc.constant('line' as const),
      tone,
      stroke: fc.constantFrom(undefined, 'dashed' as const, 'dotted' as const),
      from: point,
      to: point,
    }),
    fc.record({
      shape: fc.constant('label' as const),
      x: fc.nat(),
      y: fc.nat(),
      anchor: fc.constantFrom('start' as const, 'middle' as const, 'end' as const),
      text,
    }),
  );
}

function arbitraryFinding(place: fc.Arbitrary<Place>): fc.Arbitrary<Finding> {
  const text = arbitraryHostileText;
  const maybe = fc.option(text, { nil: undefined });
  return fc.record({
    check: text,
    severity: fc.constantFrom(...severities),
    place,
    message: text,
    help: maybe,
    record: maybe,
    related: fc.array(fc.record({ place, message: text }), { maxLength: 2 }),
    fixes: fc.constant([]),
  });
}
