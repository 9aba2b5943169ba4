import { expect, it } from 'vitest';
import {
  type CodeAction,
  CodeActionRequest,
  TextDocumentSaveReason,
  type TextEdit,
  WillSaveTextDocumentWaitUntilRequest,
  type WorkspaceEdit,
} from 'vscode-languageserver/node';
import type { Client } from './harness/client.ts';
import { overEveryConnection } from './harness/connections.ts';
import { editedText } from './harness/edited-text.ts';

/** A remedy that follows from the file alone, one that needs a choice, and one of each behind a broken document. */
const text =
  'kind: maker\nid: wren\nname: 0040 # as printed\n---\nid: [a\n---\nkind: drive\nid: d-1\nfamily: tern-3\nnoets: "💾"\n';
const mended = text.replace('0040', '"0040"').replace('noets', 'notes');
const files = { 'family.yaml': 'kind: family\nid: tern-2\nname: Tern 2\nmaker: wren\n', 'a.yaml': text };

const saving = { synchronization: { willSaveWaitUntil: true } };
const capabilities = {
  textDocument: { ...saving, codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } } },
};

function save(client: Client, uri = client.uriOf('a.yaml')): Promise<TextEdit[] | null> {
  const params = { textDocument: { uri }, reason: TextDocumentSaveReason.Manual };
  return client.ask(WillSaveTextDocumentWaitUntilRequest.type, params);
}

async function fixAll(client: Client): Promise<WorkspaceEdit | undefined> {
  const position = { line: 0, character: 0 };
  const actions = await client.ask(CodeActionRequest.type, {
    textDocument: { uri: client.uriOf('a.yaml') },
    range: { start: position, end: position },
    context: { diagnostics: [], only: ['source.fixAll.swaplore'] },
  });
  return (actions as CodeAction[])[0]?.edit;
}

overEveryConnection((connect) => {
  it('mends on save what the action for the whole file would, and nothing that needs a choice', async () => {
    const client = await connect(files, { capabilities, initializationOptions: { fixOnSave: true } });
    expect(client.initialized.capabilities.textDocumentSync).toMatchObject({ willSaveWaitUntil: true });
    await client.open('a.yaml');
    const edits = await save(client);
    expect(editedText(text, edits)).toBe(mended);
    expect(await fixAll(client)).toEqual({ changes: { [client.uriOf('a.yaml')]: edits } });
    await client.change('a.yaml', [{ text: mended }]);
    expect(await save(client)).toEqual([]);
    const checks = (client.diagnostics['a.yaml'] ?? []).map(({ code }) => code);
    expect(checks).toContain('dangling-reference');
  });

  it('does nothing unless a setting asks for it', async () => {
    const client = await connect(files, { capabilities });
    await client.open('a.yaml');
    expect(await save(client)).toBe(null);
    const settings = { swaplore: { fixOnSave: true } };
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings });
    expect(editedText(text, await save(client))).toBe(mended);
  });

  it('leaves alone a file that cannot be read at all, and files outside every base', async () => {
    const client = await connect(files, { capabilities, initializationOptions: { fixOnSave: true } });
    await client.open('a.yaml', 'kind: drive\nnoets: [a\n');
    expect(await save(client)).toEqual([]);
    expect(await save(client, 'untitled:a.yaml')).toBe(null);
  });

  it('is not offered to clients that do not wait', async () => {
    const { textDocumentSync } = (await connect(files)).initialized.capabilities;
    expect(textDocumentSync).toMatchObject({ willSaveWaitUntil: false });
  });
});
