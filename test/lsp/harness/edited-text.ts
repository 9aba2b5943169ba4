import type { TextEdit } from 'vscode-languageserver';
import { LineIndex } from '../../../server/src/core/text/line-index.ts';

/** A text after edits, which come in its order. Throws where they overlap, as no editor takes such. */
export function editedText(text: string, edits: readonly TextEdit[] | null): string {
  const lines = new LineIndex(text);
  let from = text.length;
  return (edits ?? []).reduceRight((after, { range, newText }) => {
    const [start, end] = [lines.offsetAt(range.start), lines.offsetAt(range.end)];
    if (start > end || end > from) throw new Error(`Edits overlap or are out of order: ${JSON.stringify(edits)}`);
    from = start;
    return after.slice(0, start) + newText + after.slice(end);
  }, text);
}
