import { describe, expect, it } from 'vitest';
import { decode } from '../../server/src/core/captures/decode.ts';
import { readCapture } from '../../server/src/core/captures/read-capture.ts';
import { formatText } from '../../server/src/core/edits/format-text.ts';
import { completionsAt } from '../../server/src/core/features/completion.ts';
import { documentLinksOf } from '../../server/src/core/features/document-links.ts';
import { foldsOf } from '../../server/src/core/features/folds.ts';
import { hoverAt } from '../../server/src/core/features/hover.ts';
import { outlineOf } from '../../server/src/core/features/outline.ts';
import { guessDecimal } from '../../server/src/core/importing/guess-column.ts';
import { matchHeadings } from '../../server/src/core/importing/match-headings.ts';
import { CellReader } from '../../server/src/core/importing/read-cell.ts';
import { readDate } from '../../server/src/core/importing/read-date.ts';
import { readImportMap } from '../../server/src/core/importing/read-import-map.ts';
import { readNumber } from '../../server/src/core/importing/read-number.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { fitsPattern } from '../../server/src/core/text/fits-pattern.ts';
import { globTest } from '../../server/src/core/text/glob.ts';
import { markdownCode, markdownText } from '../../server/src/core/text/markdown-text.ts';
import { visible } from '../../server/src/core/text/visible.ts';
import { ClientStore } from '../../server/src/host/client-store.ts';
import { openAt } from '../harness/open-at.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

/** Characters of a text. At the square of it each case takes a minute or more, else some milliseconds. */
const many = 200_000;

/** Time a case may take on a busy machine, in milliseconds. */
const patienceMs = 15_000;

const run = (unit: string) => unit.repeat(many / unit.length);

/** A record in which something stands on the line after the cursor's. */
const before = (line: string) => ({ 'a.yaml': `kind: drive\n$0\n${line}\n` });

const cases: Readonly<Record<string, () => unknown>> = {
  'spaces within a note of several lines': () =>
    new CellReader({}, snapshotOf({})).read(
      { row: { name: 'notes' }, values: new Map() } as unknown as Parameters<CellReader['read']>[0],
      `a${run(' ')}b`,
    ),
  'spaces within a number': () => readNumber(`1${run(' ')}x1`, {}),
  'words before a number': () => guessDecimal([`${run('x')}1`]),
  'brackets in a heading': () => matchHeadings([`${run('(')}x`], snapshotOf({})),
  'spaces in a heading': () => matchHeadings([`${run(' ')}x`], snapshotOf({})),
  'years in a form of dates': () => {
    const map = `mapping: 1\ntable: { dates: ['${'YY'.repeat(40)}!'] }\nrecords: [{ kind: drive, id: d }]\n`;
    expect('faults' in readImportMap(new TextEncoder().encode(map))).toBe(true);
  },
  'figures in a date': () => readDate(run('1'), ['DDMMYYYY', 'D.M.YYYY', 'DD.MM.YYYY']),
  'spaces behind the mark of a block text': () => {
    const { tape } = readText(`kind:  maker\nid: a\nnotes: |${run(' ')}# b\n  c\n`);
    return formatText(tape, { start: 0, end: tape.text.length });
  },
  'spaces before a colon below the cursor': () => completed(before(`a${run(' ')}b`)),
  'spaces behind a colon below the cursor': () => completed(before(`a:${run(' ')}\u2028`)),
  'numbers of comments below the cursor': () => completed(before(`a: b${run(' #')}\u2028`)),
  'blank lines before a document': () => completed({ 'a.yaml': `${run('\n')}---\nkind: drive\n$0\n` }),
  'spaces between members': () => completed({ 'a.yaml': `kind: drive\nboard: {$0${run(' ')}# a\n, id: b }\n` }),
  'an address that ends in a space': () => {
    const { tape } = readText(`kind: maker\nid: a\nsources: [{ title: a, url: "http://${run('a')} b" }]\n`);
    return documentLinksOf({ path: 'a.yaml', tape });
  },
  'code that begins with a space': () => markdownCode(` ${run('a')}`),
  'backticks in code': () => markdownCode(run('` ')),
  'a word without end': () => markdownText(run('a_')),
  'control characters': () => visible(run('\u001b')),
  'padding within a field of a drive': () => decode(vpdSerial(` ${' '.repeat(65_000)} `, 'a')),
  'serial numbers in a capture': () =>
    readCapture(new TextEncoder().encode(JSON.stringify({ capture: 1, notes: run('ab1 ') }))),
  'stars in the model pattern of a family': () => fitsPattern(run('a').slice(0, 20_000), `${'*a'.repeat(60)}b`),
  'stars in a pattern of `ignore`': () => globTest(`${'**/*a'.repeat(60)}b`)(run('a/').slice(0, 20_000)),
  'the address of a folder': () => new ClientStore(noFiles).findAbove(`mem://${run('a')}\n`),
};

describe('no text takes more than its length', () => {
  it.each(Object.entries(cases))('%s', async (_, read) => void (await read()), patienceMs);
});

const units = [
  ' ',
  '\n',
  '\t',
  '\u2028',
  '#',
  '- ',
  '? ',
  ': ',
  'a: ',
  '"',
  "'",
  '[',
  '{',
  '{a: ',
  ',',
  '|',
  '>',
  '&a ',
  '*a ',
  '!',
  '%',
  '---\n',
  '`',
  '\\',
  '0',
  '.',
];

describe.each(units)('a file of %j', (unit) => {
  it.each([
    ['behind a record', 'kind: maker\nid: a\nname: A\n'],
    ['within a value', 'kind: maker\nid: a\nname: A'],
    ['within brackets', 'kind: maker\nid: a\nsources: [{ title: a, '],
  ])(
    '%s',
    (_, start) => {
      const { file, offset } = openAt({ 'a.yaml': `${start}${run(unit).slice(0, many / 4)}$0 x` });
      const { tape } = file;
      hoverAt(file, offset);
      completionsAt(file, offset, { hasSnippets: false });
      formatText(tape, { start: 0, end: tape.text.length });
      foldsOf(tape);
      outlineOf(tape);
      documentLinksOf(file);
    },
    patienceMs,
  );
});

function completed(files: Readonly<Record<string, string>>): unknown {
  const { file, offset } = openAt(files);
  return completionsAt(file, offset, { hasSnippets: false });
}

/** A vital product data page with a serial number. Source: SPC-6, 7.7.19, "Unit Serial Number VPD page". */
function vpdSerial(...parts: readonly string[]): Uint8Array {
  const text = Buffer.from(parts.join(''), 'latin1');
  return Buffer.concat([Buffer.from([0, 0x80, text.length >> 8, text.length & 0xff]), text]);
}

const noFiles: ConstructorParameters<typeof ClientStore>[0] = {
  list: async () => [],
  read: async () => [],
  sizes: async () => [],
};
