import { expect, it } from 'vitest';
import {
  DiagnosticRefreshRequest,
  DocumentDiagnosticRequest,
  WorkspaceDiagnosticRequest,
} from 'vscode-languageserver/node';
import { overEveryConnection } from './harness/connections.ts';

const family = 'kind: family\nid: tern-2\nname: Tern 2\nmaker: harbour\n';
const maker = 'kind: maker\nid: harbour\nname: Harbour\n';

const pulling = {
  capabilities: {
    textDocument: { diagnostic: { relatedInformation: true }, publishDiagnostics: {} },
    workspace: { diagnostics: { refreshSupport: true }, workspaceFolders: true },
  },
};

overEveryConnection((connect) => {
  it('are given when asked for, with what other files make of a document, and only once', async () => {
    const client = await connect({ 'families.yaml': family }, pulling);
    let refreshes = 0;
    client.connection.onRequest(DiagnosticRefreshRequest.type, () => void refreshes++);
    await client.open('families.yaml');
    const textDocument = { uri: client.uriOf('families.yaml') };
    const first = await client.ask(DocumentDiagnosticRequest.type, { textDocument });
    // Nothing that rests on absence before everything is read; then the server asks to be asked again.
    while (refreshes === 0) await client.ask(DocumentDiagnosticRequest.type, { textDocument });
    const second = await client.ask(DocumentDiagnosticRequest.type, { textDocument });
    expect(second).toMatchObject({ kind: 'full', items: [{ code: 'dangling-reference' }] });
    expect([0, 1]).toContain(first.kind === 'full' ? first.items.length : -1);
    const previousResultId = (second as { resultId: string }).resultId;
    const third = await client.ask(DocumentDiagnosticRequest.type, { textDocument, previousResultId });
    expect(third).toEqual({ kind: 'unchanged', resultId: previousResultId });
    await client.open('makers.yaml', maker);
    const fourth = await client.ask(DocumentDiagnosticRequest.type, { textDocument, previousResultId });
    expect(fourth).toMatchObject({ kind: 'full', items: [] });
    expect(client.published).toEqual([]);
  });

  it('of a workspace leave out what the client has, and empty what is mended', async () => {
    const client = await connect({ 'families.yaml': family, 'others.yaml': 'kind: maker\nid: a\n' }, pulling);
    const before = await client.ask(WorkspaceDiagnosticRequest.type, { previousResultIds: [] });
    const asked = async (previous: typeof before) => {
      const previousResultIds = previous.items.flatMap(({ uri, resultId }) =>
        resultId ? { uri, value: resultId } : [],
      );
      const { items } = await client.ask(WorkspaceDiagnosticRequest.type, { previousResultIds });
      return Object.fromEntries(items.map(({ uri, kind }) => [uri, kind]));
    };
    expect(before.items.map(({ uri }) => uri).sort()).toEqual([
      client.uriOf('families.yaml'),
      client.uriOf('others.yaml'),
    ]);
    expect(new Set(Object.values(await asked(before)))).toEqual(new Set(['unchanged']));
    await client.open('makers.yaml', maker);
    expect(await asked(before)).toEqual({
      [client.uriOf('families.yaml')]: 'full',
      [client.uriOf('others.yaml')]: 'unchanged',
    });
  });
});
