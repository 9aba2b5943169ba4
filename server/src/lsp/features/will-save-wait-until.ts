import { WillSaveTextDocumentWaitUntilRequest } from 'vscode-languageserver';
import { defineFeature } from '../feature.ts';
import { offeredActions } from '../offered-actions.ts';
import { toTextEdits } from '../to-text-edits.ts';

const start = { line: 0, character: 0 };

/** Mends on save, where a setting asks for it, what the action that mends a whole file would. */
export const willSaveWaitUntil = defineFeature({
  request: WillSaveTextDocumentWaitUntilRequest.type,
  // Said with what else is told of documents.
  capabilities: () => ({}),
  answer: async ({ textDocument }, context) => {
    if (!context.settings.fixOnSave) return null;
    const range = { start, end: start };
    const offered = await offeredActions(
      textDocument.uri,
      { range, only: new Set(['fix-all']), reach: 'file' },
      context,
    );
    if (!offered) return null;
    const edits = offered.actions.flatMap(({ files }) => files.flatMap((file) => file.edits));
    return toTextEdits(offered.opened.positions, edits);
  },
});
