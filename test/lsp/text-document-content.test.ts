import { expect, it } from 'vitest';
import { ErrorCodes, TextDocumentContentRequest } from 'vscode-languageserver/node';
import { overEveryConnection } from './harness/connections.ts';

const files = { 'makers.yaml': 'kind: maker\nid: harbour\nname: Harbour\nnmae: 1\n' };

overEveryConnection((connect) => {
  it('explains the check that a diagnostic names', async () => {
    const client = await connect(files, {
      capabilities: { workspace: { textDocumentContent: {}, workspaceFolders: true } },
    });
    const [found] = await client.untilFound('makers.yaml', ['unknown-key']);
    const uri = found?.codeDescription?.href ?? '';
    expect(uri).toBe('swaplore:/checks/unknown-key.md');
    const { text } = await client.ask(TextDocumentContentRequest.type, { uri });
    expect(text).toMatch(/^# `unknown-key`\n\nSeverity: error\./);
    const none = client.ask(TextDocumentContentRequest.type, { uri: 'swaplore:/checks/unknown.md' });
    await expect(none).rejects.toMatchObject({ code: ErrorCodes.InvalidParams });
  });

  it('is nothing a diagnostic leads to where the client shows no such pages', async () => {
    const client = await connect(files);
    const [found] = await client.untilFound('makers.yaml', ['unknown-key']);
    expect(found).not.toHaveProperty('codeDescription');
  });
});
