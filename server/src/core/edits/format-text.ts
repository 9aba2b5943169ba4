/**
 * Lays documents out alike, without touching a value or a comment. Every document that would be laid out otherwise is read back, by both
 * readers: one that would not read as before stays as it is. Broken documents are left alone.
 * Laws (test/property/format-text.property.test.ts):
 * - formatting twice is formatting once
 * - values and comments stay
 * - text inside quoted and block texts stays byte for byte
 * - line endings stay
 * - a range changes nothing outside it
 * - no proposed layout has to be taken back
 * - edits are sorted, apart from one another and within the text
 * - never throws on damaged text
 */
import { readFast } from '../syntax/read-fast.ts';
import { readText } from '../syntax/read-text.ts';
import { readWithYaml } from '../syntax/read-with-yaml.ts';
import type { Span, Tape } from '../syntax/tape.ts';
import { firstLine } from '../text/first-line.ts';
import { formatTokens, type Token } from './format-tokens.ts';
import { proposeFormat } from './propose-format.ts';
import { replaceIn, type TextEdit } from './text-edit.ts';
import { lineBreakAt, lineStart, nextLine } from './text-lines.ts';

/** Edits that lay out the lines of a text that a stretch touches, sorted and apart from one another; none where all is well. */
export function formatText(tape: Tape, span: Span): readonly TextEdit[] {
  const { text } = tape;
  // Where a file has line ends that not all readers take for one, nothing that rests on lines is safe.
  if (tape.documents.length === 0 || /\r(?!\n)/.test(text)) return [];
  const lines = linesOf(text, span);
  const pieces = documentsIn(text);
  const edits = pieces.flatMap((piece) => formatDocument(tape, piece, lines));
  if (edits.length === 0 || pieces.length === 1) return edits;
  return isSameTape(tape, readText(replaceIn(text, edits)).tape) ? edits : [];
}

/** The whole lines that a stretch touches; a line it only ends at the beginning of is not among them. */
function linesOf(text: string, { start, end }: Span): Span {
  const isWhole = end > start && lineStart(text, end) === end;
  return { start: lineStart(text, start), end: isWhole ? end : nextLine(text, end) };
}

/** The stretches between one `---` and the next. A line that begins so ends a document wherever it stands. */
function documentsIn(text: string): readonly Span[] {
  const starts = [...text.matchAll(/(?<=\n)---(?!\S)/g)].map(({ index }) => index);
  return [0, ...starts].map((start, at) => ({ start, end: starts[at] ?? text.length }));
}

function formatDocument(tape: Tape, { start, end }: Span, lines: Span): readonly TextEdit[] {
  if (end <= lines.start || start > lines.end) return [];
  const { text } = tape;
  const isAll = start === 0 && end === text.length;
  const own = isAll ? tape : readText(text.slice(start, end)).tape;
  if (!isSound(own)) return [];
  const span = { start: Math.max(lines.start - start, 0), end: Math.min(lines.end, end) - start };
  const edits = proposeFormat({ tape: own, span, lineBreak: lineBreakAt(text, text.length) }) ?? [];
  if (edits.length === 0 || !readsTheSame(own, replaceIn(own.text, edits))) return [];
  return edits.map((edit) => ({ ...edit, start: edit.start + start, end: edit.end + start }));
}

/** Whether a text is one document without a fault that holds a map, a list or nothing. */
function isSound({ documents, entries }: Tape): boolean {
  const [document] = documents;
  if (documents.length !== 1 || !document || document.isBroken) return false;
  const kind = entries[document.root]?.kind;
  return kind === undefined || kind === 'map' || kind === 'list' || kind === 'empty';
}

/** Whether a text reads as another one did, comments included, whoever reads it. */
export function readsTheSame(before: Tape, text: string): boolean {
  const { tape, faults } = readWithYaml(text);
  const fast = readFast(text);
  if (faults.length > 0 || !isSameTape(before, tape) || (fast && !isSameTape(before, fast))) return false;
  const [tokens, after] = [formatTokens(before), formatTokens(tape)];
  if (tokens?.length !== after?.length) return false;
  return (tokens ?? []).every((token, at) => {
    const other = after?.[at];
    return other?.kind === token.kind && wordsOf(before.text, token) === wordsOf(text, other);
  });
}

/** What formatting leaves of a token. The tape says more of texts that go on over lines. */
function wordsOf(text: string, { kind, start, end }: Token): string {
  const words = text.slice(start, end);
  if (kind === 'plain') return '';
  if (kind === 'block') return firstLine(words).trimEnd();
  return kind === 'quoted' ? words.replaceAll(/\n +/g, '\n') : words;
}

/** Whether two tapes say the same, wherever that stands. */
function isSameTape(a: Tape, b: Tape): boolean {
  return (
    a.documents.length === b.documents.length &&
    a.documents.every(({ root, isBroken }, at) => {
      const other = b.documents[at];
      return root === other?.root && isBroken === other.isBroken;
    }) &&
    a.entries.length === b.entries.length &&
    a.entries.every(({ kind, key, skip, text, tag, target }, at) => {
      const other = b.entries[at];
      return (
        kind === other?.kind &&
        key === other.key &&
        skip === other.skip &&
        text === other.text &&
        tag === other.tag &&
        target === other.target
      );
    })
  );
}
