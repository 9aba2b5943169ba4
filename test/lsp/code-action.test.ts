import { expect, it } from 'vitest';
import {
  type ClientCapabilities,
  type CodeAction,
  CodeActionRequest,
  type WorkspaceEditClientCapabilities,
} from 'vscode-languageserver/node';
import type { Client } from './harness/client.ts';
import { overEveryConnection } from './harness/connections.ts';

const files = {
  'makers.yaml':
    'kind: maker\nid: wren\nname: 0040 # as printed\nouuis: [00-00-5E]\nlabel: [{key: firmware, printed: FW}]\n',
};

const capabilities = {
  textDocument: { codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } } },
};

/** What is offered on a line, each with the edits it would make. */
async function offered(client: Client, line: number, only?: string[]): Promise<string[]> {
  const answer = await client.ask(CodeActionRequest.type, {
    textDocument: { uri: client.uriOf('makers.yaml') },
    range: { start: { line, character: 0 }, end: { line, character: 99 } },
    context: { diagnostics: [], ...(only ? { only } : {}) },
  });
  return ((answer ?? []) as CodeAction[]).map(({ title, isPreferred, edit }) => {
    const edits = Object.values(edit?.changes ?? {}).flat();
    const said = edits
      .map(({ range, newText }) => `${range.start.line}:${range.start.character} ${newText}`)
      .join(', ');
    return `${isPreferred ? '* ' : ''}${title}: ${said}`;
  });
}

const bench = {
  'wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'tern.yaml': 'name: "💾" # 2\nkind: family\nid: tern-2\nmaker: gull\n',
};

/** What is offered at the head of the family, each with its kind and what it would do, file by file. */
async function offeredOfFamily(client: Client, line: number, only?: string[]): Promise<Record<string, unknown>> {
  await client.open('tern.yaml');
  await client.untilFound('tern.yaml', ['dangling-reference']);
  const answer = await client.ask(CodeActionRequest.type, {
    textDocument: { uri: client.uriOf('tern.yaml') },
    range: { start: { line, character: 0 }, end: { line, character: 99 } },
    context: { diagnostics: [], ...(only ? { only } : {}) },
  });
  const actions = (answer ?? []) as CodeAction[];
  return Object.fromEntries(
    actions.map(({ title, kind, edit, diagnostics = [], isPreferred }) => {
      const about = [kind, ...diagnostics.map(({ code }) => code), ...(isPreferred ? ['preferred'] : [])].join(' ');
      const files = (edit?.documentChanges ?? []).map((change) => {
        if (!('edits' in change)) return { ...change, uri: client.pathOf((change as { uri: string }).uri) };
        const { uri, version } = change.textDocument;
        return { file: client.pathOf(uri), version, edits: change.edits };
      });
      return [`${title} (${about})`, edit?.changes ? edit.changes : files];
    }),
  );
}

function clientWith(workspaceEdit: WorkspaceEditClientCapabilities): ClientCapabilities {
  return { ...capabilities, workspace: { workspaceEdit } };
}

overEveryConnection((connect) => {
  it('offers what would mend the findings of a line', async () => {
    const client = await connect(files, { capabilities });
    await client.open('makers.yaml');
    expect(await offered(client, 2)).toEqual(['* Put quotes round `0040`: 2:6 "0040"']);
    expect(await offered(client, 3)).toEqual([
      '* Rename it to `ouis`: 3:0 ouis',
      'Rename it to `x-ouuis`: 3:0 x-ouuis',
    ]);
    const sort =
      'Sort the keys as the schema has them: 3:0 label: [{key: firmware, printed: FW}], 4:0 ouuis: [00-00-5E]';
    expect(await offered(client, 0)).toEqual([sort]);
    expect(await offered(client, 2, ['refactor'])).toEqual([sort]);
    expect(await offered(client, 2, ['refactor.extract'])).toEqual([]);
  });

  it('mends all that needs no choice at once', async () => {
    const client = await connect(files, { capabilities });
    await client.open('makers.yaml');
    expect(await offered(client, 0, ['source.fixAll'])).toEqual([
      'Mend what follows from the file alone: 2:6 "0040", 3:0 ouis',
    ]);
  });

  it('keeps up with the text', async () => {
    const client = await connect(files, { capabilities });
    await client.open('makers.yaml');
    await offered(client, 2);
    await client.change('makers.yaml', [{ text: 'kind: maker\nid: wren\nname: Wren\nnoets: a\n' }]);
    expect(await offered(client, 2)).toEqual([]);
    expect(await offered(client, 3)).toEqual([
      '* Rename it to `notes`: 3:0 notes',
      'Rename it to `x-noets`: 3:0 x-noets',
    ]);
  });

  it('asks for what nobody knows in snippets, and makes files, where the client takes such', async () => {
    const able = clientWith({ documentChanges: true, snippetEditSupport: true, resourceOperations: ['create'] });
    const client = await connect(bench, { capabilities: able });
    expect(client.initialized.capabilities.codeActionProvider).toEqual({
      codeActionKinds: ['quickfix', 'refactor.rewrite', 'source.fixAll.swaplore'],
    });
    const none = { line: 0, character: 0 };
    expect(await offeredOfFamily(client, 3)).toEqual({
      'Record the maker `gull` in the new file `gull.yaml` (quickfix dangling-reference)': [
        { kind: 'create', uri: 'gull.yaml' },
        {
          file: 'gull.yaml',
          version: null,
          edits: [{ range: { start: none, end: none }, newText: 'kind: maker\nid: gull\nname: ""\n' }],
        },
      ],
    });
    const start = { line: 0, character: 14 };
    const offered = await offeredOfFamily(client, 1, ['refactor']);
    expect(Object.keys(offered)).toEqual([
      'Retract the family `tern-2`, with the reason (refactor.rewrite)',
      'Sort the keys as the schema has them (refactor.rewrite)',
    ]);
    const [retract] = Object.values(offered);
    // The day is the system's where nobody sets another.
    const value = expect.stringMatching(/^\nretracted: \{ on: \$\{1:\d{4}-\d\d-\d\d\}, because: "\$2" \\\}$/);
    expect(retract).toEqual([
      {
        file: 'tern.yaml',
        version: 1,
        edits: [
          {
            range: { start, end: start },
            snippet: { kind: 'snippet', value },
          },
        ],
      },
    ]);
  });

  it('offers only what follows from the text to a client that takes plain edits alone', async () => {
    const client = await connect(bench, { capabilities });
    expect(await offeredOfFamily(client, 3)).toEqual({});
    expect(Object.keys(await offeredOfFamily(client, 1))).toEqual([
      'Sort the keys as the schema has them (refactor.rewrite)',
    ]);
    expect(await offeredOfFamily(client, 1, ['quickfix'])).toEqual({});
  });
});
