import { WillSaveTextDocumentWaitUntilRequest } from 'vscode-languageserver';
import { defineFeature } from '../feature.ts';
import { offeredFixes, sureEdits } from '../offered-fixes.ts';
import { toTextEdits } from '../to-text-edits.ts';

/** Mends on save, where a setting asks for it, what the action that mends a whole file would. */
export const willSaveWaitUntil = defineFeature({
  request: WillSaveTextDocumentWaitUntilRequest.type,
  // Said with what else is told of documents.
  capabilities: () => ({}),
  answer: async ({ textDocument }, context) => {
    if (!context.settings.fixOnSave) return null;
    const found = await offeredFixes(textDocument.uri, context);
    return found ? toTextEdits(found.opened.positions, (await sureEdits(found, context)).edits) : null;
  },
});
