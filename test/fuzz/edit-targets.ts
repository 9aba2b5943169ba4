import { CST, Lexer } from 'yaml';
import { formatText } from '../../server/src/core/edits/format-text.ts';
import type { Intent, Value } from '../../server/src/core/edits/intent.ts';
import { planEdits } from '../../server/src/core/edits/plan-edits.ts';
import { isRefusal, replaceIn, type TextEdit } from '../../server/src/core/edits/text-edit.ts';
import { buildData } from '../../server/src/core/syntax/build-data.ts';
import { readFast } from '../../server/src/core/syntax/read-fast.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { readWithYaml } from '../../server/src/core/syntax/read-with-yaml.ts';
import { mergeTexts } from '../../server/src/core/text/merge-texts.ts';
import { arbitraryIntent, arbitraryIntents, spotOf } from '../harness/arbitrary-edit.ts';
import { agree, demand } from './agree.ts';
import { madeTarget, type Target } from './target.ts';
import { textOf } from './text-of.ts';
import { recordSeeds, yamlSeeds } from './yaml-seeds.ts';

function commentsIn(text: string): readonly string[] {
  return [...new Lexer().lex(text)]
    .filter((lexeme) => CST.tokenType(lexeme) === 'comment')
    .map((lexeme) => lexeme.trimEnd());
}

function dataOf(text: string): readonly unknown[] {
  const { tape } = readText(text);
  return tape.documents.map(({ root }) => (root < 0 ? undefined : buildData(tape, root).data));
}

/** Throws where edits are out of order, or where a text is not what it was outside them. */
function demandApart(text: string, edits: readonly TextEdit[]): void {
  let at = 0;
  for (const { start, end } of edits) {
    demand(at <= start && start <= end && end <= text.length, 'edits are sorted, apart and within the text', edits);
    at = end;
  }
}

function bothRead(text: string): void {
  const fast = readFast(text);
  if (fast) agree('both tapes of an edited text', fast, readWithYaml(text).tape);
}

const values: readonly Value[] = [
  ...[
    '',
    'x',
    '0007',
    'a: b',
    '# no',
    '- x',
    "it's",
    'line one\nline two\n',
    ' lead',
    'é😀',
    '\u2028',
    'null',
    '2012-08',
    '|',
    '****4F2K',
  ],
  ...[0, -0.5, 1e21, true, [], ['a', 1], {}, { kind: 'drive', x: ['y'] }],
];
const names = ['id', 'kind', 'x-a', 'a b', '', '<<', 'notes', '0'];

/** An intent on a place of a text; which one follows from three bytes. */
function intentOf(text: string, [a = 0, b = 0, c = 0]: Uint8Array): Intent | undefined {
  const spot = spotOf(text, a * 256 + b);
  if (!spot) return undefined;
  const { document, path } = spot;
  const value = values[c % values.length] ?? '';
  const last = path.at(-1);
  const name = names[(c >> 3) % names.length] ?? '';
  const member = typeof last === 'number' ? last : name;
  const all: readonly Intent[] = [
    { intent: 'set', document, path, value },
    { intent: 'set', document, path: [...path.slice(0, -1), member], value },
    { intent: 'insert', document, path: [...path.slice(0, -1), member], value },
    { intent: 'remove', document, path },
    { intent: 'rename', document, path, name },
    { intent: 'sort', document, path: path.slice(0, -1) },
  ];
  return all[c % all.length];
}

function carryOut(text: string, intents: readonly Intent[]): void {
  const { tape } = readText(text);
  const planned = planEdits({ tape, contentId: 'c' }, intents);
  agree('edits planned again', planEdits({ tape: readText(text).tape, contentId: 'c' }, intents), planned);
  if (isRefusal(planned)) return;
  demandApart(text, planned.edits);
  const after = replaceIn(text, planned.edits);
  bothRead(after);
  const [own, was] = [dataOf(after), dataOf(text)];
  for (const intent of intents) {
    if (intents.length > 1 || intent.intent === 'create') continue;
    for (const [at, data] of was.entries()) if (at !== intent.document) agree('another document', own[at], data);
    if (intent.intent === 'sort') agree('sorted data', own, was);
    if (intent.intent === 'set') {
      const again = planEdits({ tape: readText(after).tape, contentId: 'c' }, intents);
      agree('the same set once more', isRefusal(again) ? again : again.edits, []);
    }
  }
  // What is removed, or replaced as a whole, takes the comments inside it along.
  const isGentle = intents.every(({ intent }) => ['insert', 'rename', 'sort', 'create'].includes(intent));
  if (!isGentle) return;
  const left = new Map<string, number>();
  for (const comment of commentsIn(after)) left.set(comment, (left.get(comment) ?? 0) + 1);
  for (const comment of commentsIn(text)) {
    const count = left.get(comment) ?? 0;
    demand(count > 0, 'a comment survives', { comment, after });
    left.set(comment, count - 1);
  }
}

function runEdits(bytes: Uint8Array): void {
  const text = textOf(bytes.subarray(3));
  const intent = intentOf(text, bytes);
  if (intent) carryOut(text, [intent]);
}

function runFormat(bytes: Uint8Array): void {
  const text = textOf(bytes);
  const edits = formatText(readText(text).tape, { start: 0, end: text.length });
  demandApart(text, edits);
  if (edits.length === 0) return;
  const after = replaceIn(text, edits);
  agree('formatted twice', formatText(readText(after).tape, { start: 0, end: after.length }), []);
  agree('comments of a formatted text', commentsIn(after), commentsIn(text));
  agree('data of a formatted text', dataOf(after), dataOf(text));
  bothRead(after);
}

/** A text and two others that came of it, with a byte of 1 between them. */
function runMerge(bytes: Uint8Array): void {
  const lines = textOf(bytes).split('\u0001');
  const [old = '', a = '', b = ''] = lines;
  const merged = mergeTexts(old, a, b);
  agree('merged the other way round', mergeTexts(old, b, a), merged);
  agree('merged with what did not change', mergeTexts(old, a, old), a);
}

const asSeeds = (lead: readonly number[]) => (): readonly Uint8Array[] =>
  [...recordSeeds(), ...yamlSeeds()].map((bytes) => Uint8Array.from([...lead, ...bytes]));

/** What changes files. */
export const editTargets: readonly Target[] = [
  {
    ...{ kind: 'bytes', name: 'edits', mostBytes: 700, runsInSuite: 250, runs: 10_000, limitMs: 1_500 },
    feeds: 'an intent, from three bytes, on a place of a text',
    holds:
      'edits are the same again and apart, other documents and comments survive, both readers agree, setting twice is setting once',
    seeds: asSeeds([0, 7, 1]),
    run: runEdits,
  },
  madeTarget({
    ...{ name: 'intents', runsInSuite: 60, runs: 5_000, limitMs: 3_000 },
    feeds: 'one intent or several, on texts as people lay them out',
    holds: 'the same',
    samples: arbitraryIntents.chain((several) =>
      arbitraryIntent.map(({ text, intent }) => [several, { text, intents: [intent] }]),
    ),
    run: (both) => {
      for (const { text, intents } of both) carryOut(text, intents);
    },
  }),
  {
    ...{ kind: 'bytes', name: 'format', mostBytes: 700, runsInSuite: 250, runs: 8_000, limitMs: 1_500 },
    feeds: 'texts',
    holds: 'formatting twice is formatting once, data and comments stay, both readers agree',
    seeds: asSeeds([]),
    run: runFormat,
  },
  {
    ...{ kind: 'bytes', name: 'merge', mostBytes: 400, runsInSuite: 2_000, runs: 150_000, limitMs: 500 },
    feeds: 'a text and two that came of it',
    holds: 'the order does not matter, and nothing merged with nothing is nothing lost',
    seeds: () => [new TextEncoder().encode('a\nb\nc\n\u0001a\nB\nc\n\u0001a\nb\nc\nd\n')],
    run: runMerge,
  },
];
