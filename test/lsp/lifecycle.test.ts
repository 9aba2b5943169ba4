import { expect, it } from 'vitest';
import {
  CancellationTokenSource,
  DocumentDiagnosticRequest,
  ErrorCodes,
  LSPErrorCodes,
  ShutdownRequest,
  WorkspaceDiagnosticRequest,
} from 'vscode-languageserver/node';
import { overEveryConnection } from './harness/connections.ts';

const maker = 'kind: maker\nid: harbour\nname: Harbour\n';

/** A client that asks for diagnostics. */
const pulling = {
  capabilities: {
    textDocument: { diagnostic: { relatedInformation: true } },
    workspace: { diagnostics: { refreshSupport: true }, workspaceFolders: true },
  },
};

overEveryConnection((connect) => {
  it('says who it is', async () => {
    const client = await connect({});
    expect(client.initialized.serverInfo).toMatchObject({ name: 'swaplore' });
  });

  it('tells of the reading of a base as progress', async () => {
    const client = await connect({ 'swaplore.yaml': 'swaplore: 1\nname: Shelf two\n', 'makers.yaml': maker });
    await client.until(() => client.progress.includes('end'));
    expect(client.progress[0]).toBe('Reading Shelf two');
  });

  it('answers a request that fails with an error, logs it, and goes on', async () => {
    const client = await connect({ 'makers.yaml': `${maker}nmae: 1\n` }, pulling);
    const broken = client.connection.sendRequest('textDocument/diagnostic', {});
    await expect(broken).rejects.toMatchObject({ code: ErrorCodes.InternalError });
    expect(client.logged.join()).toContain('textDocument/diagnostic failed');
    await client.open('makers.yaml');
    const params = { textDocument: { uri: client.uriOf('makers.yaml') } };
    await expect(client.ask(DocumentDiagnosticRequest.type, params)).resolves.toMatchObject({
      items: [{ code: 'unknown-key' }],
    });
  });

  it('answers a request that is cancelled as cancelled, and those after it', async () => {
    const client = await connect({ 'makers.yaml': `${maker}nmae: 1\n` }, pulling);
    const source = new CancellationTokenSource();
    const given = client.connection.sendRequest(
      WorkspaceDiagnosticRequest.method,
      { previousResultIds: [] },
      source.token,
    );
    source.cancel();
    await expect(given).rejects.toMatchObject({ code: LSPErrorCodes.RequestCancelled });
    const { items } = await client.ask(WorkspaceDiagnosticRequest.type, { previousResultIds: [] });
    expect(items).toMatchObject([
      { uri: client.uriOf('makers.yaml'), version: null, items: [{ code: 'unknown-key' }] },
    ]);
  });

  it('answers nothing after it was shut down', async () => {
    const client = await connect({ 'makers.yaml': maker }, pulling);
    await client.connection.sendRequest(ShutdownRequest.type);
    const late = client.ask(WorkspaceDiagnosticRequest.type, { previousResultIds: [] });
    await expect(late).rejects.toMatchObject({ code: ErrorCodes.InvalidRequest });
  });
});
