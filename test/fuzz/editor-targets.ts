import { codeLenses } from '../../server/src/core/features/code-lenses.ts';
import { completionsAt } from '../../server/src/core/features/completion.ts';
import { definitionAt } from '../../server/src/core/features/definition.ts';
import { documentLinksOf } from '../../server/src/core/features/document-links.ts';
import { enclosingSpans } from '../../server/src/core/features/enclosing-spans.ts';
import { foldsOf } from '../../server/src/core/features/folds.ts';
import { highlightsAt } from '../../server/src/core/features/highlights.ts';
import { hoverAt } from '../../server/src/core/features/hover.ts';
import { inlayHints } from '../../server/src/core/features/inlay-hints.ts';
import type { OpenFile } from '../../server/src/core/features/open-file.ts';
import { outlineOf } from '../../server/src/core/features/outline.ts';
import { referencesAt } from '../../server/src/core/features/references.ts';
import { prepareRename } from '../../server/src/core/features/rename-id.ts';
import { hoverMarkdown, hoverPlainText } from '../../server/src/core/features/render-hover.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import type { Span } from '../../server/src/core/syntax/tape.ts';
import { fileOf, snapshotOf } from '../harness/snapshot-of.ts';
import { ternBench } from '../harness/tern-bench.ts';
import { agree, demand } from './agree.ts';
import type { Target } from './target.ts';
import { textOf } from './text-of.ts';
import { recordSeeds, yamlSeeds } from './yaml-seeds.ts';

const path = 'zz/fuzzed.yaml';
const bench = snapshotOf(ternBench);

/** Everything an editor asks at one place of a file. */
function askedAt(file: OpenFile, offset: number): readonly unknown[] {
  const whole = { start: 0, end: file.tape.text.length };
  const hover = hoverAt(file, offset);
  return [
    hover && [hoverMarkdown(hover, (at) => `bench:/${at}`), hoverPlainText(hover)],
    completionsAt(file, offset, { hasSnippets: true }),
    definitionAt(file, offset),
    referencesAt(file, offset, { withDeclaration: true }),
    highlightsAt(file, offset),
    prepareRename(file, offset),
    enclosingSpans(file.tape, offset),
    foldsOf(file.tape),
    outlineOf(file.tape),
    documentLinksOf(file),
    inlayHints(file, whole, { verdicts: true, decoded: true }),
    codeLenses(file, { rules: true, families: true }),
  ];
}

/** Throws at a span of an answer that lies outside the text. */
function demandWithin(answer: unknown, length: number): void {
  if (typeof answer !== 'object' || answer === null) return;
  const { start, end } = answer as Partial<Span>;
  if (typeof start === 'number' && typeof end === 'number' && !('file' in answer)) {
    demand(0 <= start && start <= end && end <= length, 'an answer lies in the text', [start, end, length]);
  }
  if (!('file' in answer)) for (const inner of Object.values(answer)) demandWithin(inner, length);
}

/** The first byte says where the cursor stands, as a share of the text. */
function runEditor(bytes: Uint8Array): void {
  const text = textOf(bytes.subarray(1));
  const offset = Math.round((text.length * (bytes[0] ?? 0)) / 255);
  const file = fileOf(path, bytes.subarray(1));
  const open = { path, tape: readText(text).tape, snapshot: bench.with([{ path, file }]), isIndexed: true };
  const asked = askedAt(open, offset);
  agree('answers again', askedAt(open, offset), asked);
  for (const answer of asked) demandWithin(answer, text.length);
}

/** What an editor asks of a text while it is typed. */
export const editorTargets: readonly Target[] = [
  {
    ...{ kind: 'bytes', name: 'editor', mostBytes: 800, runsInSuite: 120, runs: 6_000, limitMs: 2_000 },
    feeds: 'texts and an offset, in a small base',
    holds: 'answers are the same again and lie in the text',
    seeds: () => [...recordSeeds(), ...yamlSeeds()].map((bytes) => Uint8Array.from([128, ...bytes])),
    run: runEditor,
  },
];
