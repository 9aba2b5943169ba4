import { csvLine } from '../../server/src/core/exporting/csv-text.ts';
import { formatDate, formatSpan, parseDate, parseDaySpan } from '../../server/src/core/terms/calendar.ts';
import { decodeDateCode } from '../../server/src/core/terms/date-code.ts';
import { isMaskedSerial, maskedSerial } from '../../server/src/core/terms/masked-serial.ts';
import { isSameSerial } from '../../server/src/core/terms/same-serial.ts';
import { isSameWwn, parseWwn } from '../../server/src/core/terms/wwn.ts';
import { fitsPattern } from '../../server/src/core/text/fits-pattern.ts';
import { foldText } from '../../server/src/core/text/fold.ts';
import { globTest } from '../../server/src/core/text/glob.ts';
import { LineIndex } from '../../server/src/core/text/line-index.ts';
import { markdownCode, markdownText } from '../../server/src/core/text/markdown-text.ts';
import { nearNames } from '../../server/src/core/text/near-names.ts';
import { visible } from '../../server/src/core/text/visible.ts';
import { withShortQuotes } from '../../server/src/core/text/with-short-quotes.ts';
import { readCsv } from '../harness/read-csv.ts';
import { type Inline, readInlines } from '../harness/read-inlines.ts';
import { agree, demand } from './agree.ts';
import type { Target } from './target.ts';
import { textOf } from './text-of.ts';

const encoder = new TextEncoder();
const shown = (inlines: readonly Inline[]): string => inlines.map(({ text }) => text).join('');

/** Text that is to be nothing but text in Markdown. */
function runMarkdown(bytes: Uint8Array): void {
  const text = textOf(bytes);
  const words = visible(text.split(/\s+/).filter(Boolean).join(' '));
  const running = readInlines(markdownText(text));
  agree('running text', shown(running), words);
  agree('a code span', shown(readInlines(markdownCode(text))), visible(text));
  for (const { isCode, text: part } of running) {
    demand(isCode || !/:\/\/|www\.|@|#\d|[a-z0-9]\.[a-z]{2}/i.test(part), 'an address stands in code', part);
  }
  agree('made visible twice', visible(visible(text)), visible(text));
  demand(withShortQuotes(text).length <= text.length + 10, 'quotes become no longer', text);
  // What a spreadsheet would take for a formula has an apostrophe before it.
  const [[cell = ''] = []] = readCsv(csvLine([text]));
  demand(cell === text || cell === `'${text}`, 'a cell of a table', cell);
  agree('a folded text folded', foldText(foldText(text)), foldText(text));
  const index = new LineIndex(text);
  const at = (bytes[0] ?? 0) % (text.length + 1);
  const back = index.offsetAt(index.positionAt(at));
  demand(back === at || text.slice(back, at).trim() === '', 'an offset comes back from its position', [at, back]);
}

const schemes = [
  { scheme: 'iso_week', format: 'YYYYWW' },
  { scheme: 'fiscal_week', format: 'YYWWD', fiscal_year_starts: '07-01' },
  { scheme: 'calendar', format: 'DD.MM.YYYY' },
] as const;

/** Values as they stand on labels. */
function runTerms(bytes: Uint8Array): void {
  const [first = '', second = ''] = textOf(bytes).split('\n');
  const day = parseDate(first);
  if (day !== undefined) agree('a date written again', formatDate(day), first);
  const span = parseDaySpan(first);
  if (span) {
    demand(span.first <= span.last, 'a span has its ends in order', span);
    if (formatSpan(span).length === first.length) agree('a span read again', parseDaySpan(formatSpan(span)), span);
  }
  const wwn = parseWwn(first);
  if ('digits' in wwn) agree('a world-wide name beside itself', isSameWwn(first, wwn.digits), true);
  agree('serial numbers the other way round', isSameSerial(second, first), isSameSerial(first, second));
  const masked = maskedSerial(first);
  if (masked !== undefined) demand(isMaskedSerial(masked), 'a masked serial number is one', masked);
  for (const scheme of schemes) decodeDateCode(first, scheme);
  fitsPattern(second, first);
  globTest(first)(second);
  demand(nearNames(first, ['family', 'firmware', second]).length <= 3, 'at most three names are near', first);
}

const labels = [
  '2012-W31',
  '2012-08-03',
  '0x5000 05e0 0053 0001',
  'naa.500005e000530001',
  '12315',
  '****4F2K\nWRN0A4F2K',
  'TN-*?\nTN-10',
];

/** What reads and writes short texts. */
export const textTargets: readonly Target[] = [
  {
    ...{ kind: 'bytes', name: 'markdown', mostBytes: 200, runsInSuite: 2_000, runs: 60_000, limitMs: 200 },
    feeds: 'texts',
    holds: 'in Markdown and in tables they are the text they were, and make no mark-up; offsets come back',
    seeds: () => ['`a` [b](c) <d> *e* http://f.example #1', '| a | b |\n|-|-|\n'].map((text) => encoder.encode(text)),
    run: runMarkdown,
  },
  {
    ...{ kind: 'bytes', name: 'terms', mostBytes: 60, runsInSuite: 5_000, runs: 500_000, limitMs: 200 },
    feeds: 'dates, codes, numbers and patterns',
    holds: 'what is read is written alike, and comparing does not depend on the order',
    seeds: () => labels.map((text) => encoder.encode(text)),
    run: runTerms,
  },
];
