import { expect, it } from 'vitest';
import { type CodeAction, CodeActionRequest } from 'vscode-languageserver/node';
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

overEveryConnection((connect) => {
  it('offers what would mend the findings of a line', async () => {
    const client = await connect(files, { capabilities });
    await client.open('makers.yaml');
    expect(await offered(client, 2)).toEqual(['* Put quotes round `0040`: 2:6 "0040"']);
    expect(await offered(client, 3)).toEqual([
      '* Rename it to `ouis`: 3:0 ouis',
      'Rename it to `x-ouuis`: 3:0 x-ouuis',
    ]);
    expect(await offered(client, 0)).toEqual([]);
    expect(await offered(client, 2, ['refactor'])).toEqual([]);
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
});
