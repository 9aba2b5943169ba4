import { DocumentHighlightKind, DocumentHighlightRequest } from 'vscode-languageserver';
import { highlightsAt } from '../../core/features/highlights.ts';
import { defineFeature } from '../feature.ts';

/** What an open document says of the record or revision at the cursor. */
export const documentHighlight = defineFeature({
  request: DocumentHighlightRequest.type,
  capabilities: () => ({ documentHighlightProvider: true }),
  answer: ({ textDocument, position }, { look }) => {
    const opened = look(textDocument.uri);
    if (!opened) return null;
    const { file, positions } = opened;
    return highlightsAt(file, positions.offsetAt(position)).map((mention) => ({
      range: positions.rangeOf(mention),
      kind: mention.isDeclaration ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
    }));
  },
});
