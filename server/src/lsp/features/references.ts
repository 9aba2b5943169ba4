import { ReferencesRequest } from 'vscode-languageserver';
import { referencesAt } from '../../core/features/references.ts';
import { defineFeature } from '../feature.ts';

/** All that refers to a record or a revision. */
export const references = defineFeature({
  request: ReferencesRequest.type,
  capabilities: () => ({ referencesProvider: true }),
  answer: async ({ textDocument, position, context }, { look, locate, whenIndexed }) => {
    const base = look(textDocument.uri)?.base;
    if (!base) return null;
    await whenIndexed(base);
    const opened = look(textDocument.uri);
    if (!opened) return null;
    const offset = opened.positions.offsetAt(position);
    const withDeclaration = context.includeDeclaration;
    return locate(opened.base, referencesAt(opened.file, offset, { withDeclaration }));
  },
});
