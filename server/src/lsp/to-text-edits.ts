import type { TextEdit } from 'vscode-languageserver';
import type { TextEdit as OffsetEdit } from '../core/edits/text-edit.ts';
import type { TextPositions } from './text-positions.ts';

/** Edits of one text as a client takes them. */
export function toTextEdits(positions: TextPositions, edits: readonly OffsetEdit[]): TextEdit[] {
  return edits.map((edit) => ({ range: positions.rangeOf(edit), newText: edit.text }));
}
