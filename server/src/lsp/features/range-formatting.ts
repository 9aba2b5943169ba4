import { DocumentRangeFormattingRequest } from 'vscode-languageserver';
import { formatText } from '../../core/edits/format-text.ts';
import { defineFeature } from '../feature.ts';
import { toTextEdits } from '../to-text-edits.ts';

/** Lays out the lines a range touches. */
export const rangeFormatting = defineFeature({
  request: DocumentRangeFormattingRequest.type,
  capabilities: () => ({ documentRangeFormattingProvider: true }),
  answer: ({ textDocument, range }, { look }) => {
    const opened = look(textDocument.uri);
    if (!opened) return null;
    const { file, positions } = opened;
    const span = { start: positions.offsetAt(range.start), end: positions.offsetAt(range.end) };
    return toTextEdits(positions, formatText(file.tape, span));
  },
});
