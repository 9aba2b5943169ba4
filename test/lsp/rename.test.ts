import { expect, it } from 'vitest';
import { PrepareRenameRequest, RenameRequest, type WorkspaceEdit } from 'vscode-languageserver/node';
import type { Client } from './harness/client.ts';
import { overEveryConnection } from './harness/connections.ts';

const files = {
  'makers.yaml': 'kind: maker\nid: wren # 💾\nname: Wren\n',
  'families.yaml': 'kind: family\nid: tern-2\nmaker: "w$0ren" # ours\nname: Tern 2\n',
  'boards.yaml': '{kind: board, id: b, x-a: "💾", maker: wren, part_number: P1}\n',
};

const capabilities = {
  workspace: { workspaceEdit: { documentChanges: true } },
  textDocument: { rename: { prepareSupport: true } },
};

function editsOf(client: Client, edit: WorkspaceEdit | null): Record<string, string[]> {
  return Object.fromEntries(
    Object.entries(edit?.changes ?? {}).map(([uri, edits]) => [
      uri.slice(client.uriOf('').length),
      edits.map(({ range: { start, end }, newText }) => `${start.line}:${start.character}-${end.character} ${newText}`),
    ]),
  );
}

overEveryConnection((connect) => {
  it('changes an id wherever it is named, in open files and in closed ones', async () => {
    const client = await connect(files);
    const at = await client.openAtCursor();
    expect(editsOf(client, await client.ask(RenameRequest.type, { ...at, newName: 'wren-2' }))).toEqual({
      'boards.yaml': ['0:39-43 wren-2'],
      'families.yaml': ['2:7-13 "wren-2"'],
      'makers.yaml': ['1:4-8 wren-2'],
    });
  });

  it('names the versions it was made for, and counts as the client does', async () => {
    const general = { positionEncodings: ['utf-8'] };
    const client = await connect(files, { capabilities: { ...capabilities, general } });
    expect(client.initialized.capabilities.renameProvider).toEqual({ prepareProvider: true });
    const at = await client.openAtCursor();
    const edit = await client.ask(RenameRequest.type, { ...at, newName: 'wren-2' });
    const changes = (edit?.documentChanges ?? []).map((change) =>
      'edits' in change ? [change.textDocument.uri, change.textDocument.version, change.edits[0]?.range.start] : change,
    );
    expect(changes).toEqual([
      [client.uriOf('boards.yaml'), null, { line: 0, character: 41 }],
      [client.uriOf('families.yaml'), 1, { line: 2, character: 7 }],
      [client.uriOf('makers.yaml'), null, { line: 1, character: 4 }],
    ]);
  });

  it('says what stands there, or why it cannot be renamed', async () => {
    const client = await connect(files, { capabilities });
    const at = await client.openAtCursor();
    expect(await client.ask(PrepareRenameRequest.type, at)).toEqual({
      range: { start: { line: 2, character: 8 }, end: { line: 2, character: 12 } },
      placeholder: 'wren',
    });
    const name = { ...at, position: { line: 3, character: 7 } };
    await expect(client.ask(PrepareRenameRequest.type, name)).rejects.toThrow('No id stands here.');
    await expect(client.ask(RenameRequest.type, { ...at, newName: 'W 2' })).rejects.toThrow(
      '`id` cannot be `W 2`; a lower-case id such as `tern-2` is needed.',
    );
    const elsewhere = { textDocument: { uri: 'untitled:a.yaml' }, position: at.position };
    expect(await client.ask(RenameRequest.type, { ...elsewhere, newName: 'a' })).toBeNull();
  });
});
