import { ReferencesRequest } from 'vscode-languageserver';
import { referencesAt } from '../../core/features/references.ts';
import { defineFeature } from '../feature.ts';

/** All that refers to a record or a revision. */
export const references = defineFeature({
  request: ReferencesRequest.type,
  capabilities: () => ({ referencesProvider: true }),
  answer: async ({ textDocument, position, context }, { lookIndexed, locate }) => {
    const opened = await lookIndexed(textDocument.uri);
    if (!opened) return null;
    const offset = opened.positions.offsetAt(position);
    const withDeclaration = context.includeDeclaration;
    const locations = await locate(opened.base, referencesAt(opened.file, offset, { withDeclaration }));
    return locations.filter((location) => location !== undefined);
  },
});
