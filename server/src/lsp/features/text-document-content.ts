import { ErrorCodes, ResponseError, TextDocumentContentRequest } from 'vscode-languageserver';
import { pageScheme, pageText } from '../check-page.ts';
import { defineFeature } from '../feature.ts';

/** Pages that the server writes itself, such as the explanation of a check that a diagnostic leads to. */
export const textDocumentContent = defineFeature({
  request: TextDocumentContentRequest.type,
  capabilities: ({ workspace }) =>
    workspace?.textDocumentContent ? { workspace: { textDocumentContent: { schemes: [pageScheme] } } } : {},
  answer: ({ uri }) => {
    const text = pageText(uri);
    if (text === undefined) throw new ResponseError(ErrorCodes.InvalidParams, `There is no page ${uri}.`);
    return { text };
  },
});
