import { type DocumentDiagnosticReport, DocumentDiagnosticRequest } from 'vscode-languageserver';
import { defineFeature } from '../feature.ts';
import { pullsDiagnostics } from '../pulls-diagnostics.ts';

/** Diagnostics of one open document, for clients that ask for them. */
export const documentDiagnostic = defineFeature({
  request: DocumentDiagnosticRequest.type,
  capabilities: (client) =>
    pullsDiagnostics(client)
      ? { diagnosticProvider: { identifier: 'swaplore', interFileDependencies: true, workspaceDiagnostics: true } }
      : {},
  answer: async (
    { textDocument, previousResultId },
    { look, whenChecked, shownIn, token },
  ): Promise<DocumentDiagnosticReport> => {
    const opened = look(textDocument.uri);
    if (!opened) return { kind: 'full', items: [] };
    await whenChecked(opened.base, token);
    const shown = shownIn(opened.base).get(opened.file.path);
    if (!shown) return { kind: 'full', items: [] };
    const { resultId, diagnostics } = shown;
    return resultId === previousResultId
      ? { kind: 'unchanged', resultId }
      : { kind: 'full', resultId, items: [...diagnostics] };
  },
});
