import { DocumentLinkRequest } from 'vscode-languageserver';
import { documentLinksOf } from '../../core/features/document-links.ts';
import { defineFeature } from '../feature.ts';

/** The files and web pages that the records of an open document name. */
export const documentLink = defineFeature({
  request: DocumentLinkRequest.type,
  capabilities: () => ({ documentLinkProvider: {} }),
  answer: ({ textDocument }, { look }) => {
    const opened = look(textDocument.uri);
    if (!opened) return null;
    const { file, base, positions } = opened;
    return documentLinksOf(file).map((link) => ({
      range: positions.rangeOf(link),
      target: link.target.to === 'file' ? base.uriOf(link.target.path) : link.target.url,
    }));
  },
});
