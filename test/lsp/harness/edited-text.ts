import type { TextEdit } from 'vscode-languageserver';
import { LineIndex } from '../../../server/src/core/text/line-index.ts';

/** A text after edits, which come in its order. */
export function editedText(text: string, edits: readonly TextEdit[] | null): string {
  const lines = new LineIndex(text);
  return (edits ?? []).reduceRight(
    (after, { range, newText }) =>
      after.slice(0, lines.offsetAt(range.start)) + newText + after.slice(lines.offsetAt(range.end)),
    text,
  );
}
