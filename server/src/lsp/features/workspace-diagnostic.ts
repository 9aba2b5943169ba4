import { WorkspaceDiagnosticRequest, type WorkspaceDocumentDiagnosticReport } from 'vscode-languageserver';
import { defineFeature } from '../feature.ts';
import { canonicalUri } from '../uris.ts';

/** Diagnostics of every file of every base, for clients that ask for them; those they have already are not sent again. */
export const workspaceDiagnostic = defineFeature({
  request: WorkspaceDiagnosticRequest.type,
  // Said with those of documents.
  capabilities: () => ({}),
  answer: async ({ previousResultIds }, { allBases, whenIndexed, whenChecked, shownIn, token }) => {
    const before = new Map(previousResultIds.map(({ uri, value }) => [canonicalUri(uri), { uri, value }]));
    const items: WorkspaceDocumentDiagnosticReport[] = [];
    for (const base of await allBases()) {
      await whenIndexed(base);
      await whenChecked(base, token);
      for (const { path, resultId, diagnostics } of shownIn(base).values()) {
        const uri = base.uriOf(path);
        const version = base.opened.get(path)?.version ?? null;
        const isKnown = before.get(canonicalUri(uri))?.value === resultId;
        before.delete(canonicalUri(uri));
        items.push(
          isKnown
            ? { kind: 'unchanged', uri, version, resultId }
            : { kind: 'full', uri, version, resultId, items: [...diagnostics] },
        );
      }
    }
    for (const { uri } of before.values()) items.push({ kind: 'full', uri, version: null, items: [] });
    return { items };
  },
});
