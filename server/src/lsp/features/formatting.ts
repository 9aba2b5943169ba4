import { DocumentFormattingRequest } from 'vscode-languageserver';
import { formatText } from '../../core/edits/format-text.ts';
import { defineFeature } from '../feature.ts';
import { toTextEdits } from '../to-text-edits.ts';

/** Lays a file out. What an editor would have its own way, such as how wide an indent is, is the same for everybody here. */
export const formatting = defineFeature({
  request: DocumentFormattingRequest.type,
  capabilities: () => ({ documentFormattingProvider: true }),
  answer: ({ textDocument }, { look }) => {
    const opened = look(textDocument.uri);
    if (!opened) return null;
    const { tape } = opened.file;
    return toTextEdits(opened.positions, formatText(tape, { start: 0, end: tape.text.length }));
  },
});
