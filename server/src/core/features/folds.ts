/**
 * What an editor can fold away: records, maps, lists and texts over several lines, and comments in a row.
 * Laws (test/property/folds.property.test.ts):
 * - folds lie within the text and take up several lines
 * - no two folds begin on one line
 * - folds nest or share no line
 */
import type { Tape, TapeEntry } from '../syntax/tape.ts';
import { LineIndex } from '../text/line-index.ts';

/** A stretch of whole lines, counted from 0, both included; the first stays in sight. */
export interface Fold {
  readonly kind: 'value' | 'comment';
  readonly startLine: number;
  readonly endLine: number;
}

/** The folds of a file, from top to bottom, an outer one before those inside it. */
export function foldsOf(tape: Tape): readonly Fold[] {
  const lines = new LineIndex(tape.text);
  const values = tape.entries.flatMap((entry) => valueFold(tape, entry, lines) ?? []);
  const sorted = [...values, ...commentFolds(tape, lines)].sort(
    (a, b) => a.startLine - b.startLine || b.endLine - a.endLine,
  );
  const kept: Fold[] = [];
  /** The folds that the next one may lie in, innermost last. */
  const around: Fold[] = [];
  for (const fold of sorted) {
    while ((around.at(-1)?.endLine ?? fold.startLine) < fold.startLine) around.pop();
    const outer = around.at(-1);
    // Values between brackets may begin where others do or end, and what a broken document holds may reach out of it.
    if (outer && (fold.startLine === outer.startLine || fold.endLine > outer.endLine)) continue;
    kept.push(fold);
    around.push(fold);
  }
  return kept;
}

/** From the line of the key, or of the value where it has none, to the last line that is not blank. */
function valueFold({ text }: Tape, { keyStart, start, end, kind }: TapeEntry, lines: LineIndex): Fold | undefined {
  if (kind === 'empty' || kind === 'alias') return undefined;
  const startLine = lines.positionAt(keyStart < 0 ? start : keyStart).line;
  const endLine = lines.positionAt(start + text.slice(start, end).trimEnd().length).line;
  return endLine > startLine ? { kind: 'value', startLine, endLine } : undefined;
}

/** Lines in a row that hold nothing but a comment. A `#` inside a text over several lines begins none. */
function commentFolds(tape: Tape, lines: LineIndex): readonly Fold[] {
  const inTexts = new Set(tape.entries.flatMap((entry) => innerLines(tape, entry, lines)));
  const folds: Fold[] = [];
  let first: number | undefined;
  const last = lines.positionAt(tape.text.length).line;
  for (let line = 0; line <= last + 1; line++) {
    const isComment = !inTexts.has(line) && /^[ \t]*#/.test(lines.lineText(line));
    if (isComment) first ??= line;
    else {
      if (first !== undefined && line - 1 > first) folds.push({ kind: 'comment', startLine: first, endLine: line - 1 });
      first = undefined;
    }
  }
  return folds;
}

/** The lines of a scalar after its first. */
function innerLines({ text }: Tape, { kind, start, end }: TapeEntry, lines: LineIndex): readonly number[] {
  if (kind !== 'block' && kind !== 'quoted' && kind !== 'plain') return [];
  if (!/[\r\n]/.test(text.slice(start, end))) return [];
  const from = lines.positionAt(start).line + 1;
  const to = lines.positionAt(start + text.slice(start, end).trimEnd().length).line;
  return Array.from({ length: Math.max(0, to - from + 1) }, (_, step) => from + step);
}
