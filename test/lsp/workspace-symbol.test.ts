import { expect, it } from 'vitest';
import { type SymbolInformation, SymbolKind, WorkspaceSymbolRequest } from 'vscode-languageserver';
import { overEveryConnection } from './harness/connections.ts';

const family = (id: string) => `kind: family\nid: ${id}\nmaker: harbour\nname: T\n`;

overEveryConnection((connect) => {
  it('finds records of all bases by their ids, the best first', async () => {
    const client = await connect({
      'inner/swaplore.yaml': 'swaplore: 1\n',
      'inner/f.yaml': family('tern'),
      'outer/f.yaml': `${family('a-tern')}---\n${family('tern-2')}`,
      'maker.yaml': 'kind: maker\nid: harbour\nname: Harbour\n',
    });
    const symbols = (await client.ask(WorkspaceSymbolRequest.type, { query: 'ter' })) as SymbolInformation[];
    expect(symbols).toEqual([
      {
        name: 'tern',
        kind: SymbolKind.Class,
        location: {
          uri: client.uriOf('inner/f.yaml'),
          range: { start: { line: 1, character: 4 }, end: { line: 1, character: 8 } },
        },
        containerName: 'f.yaml',
      },
      expect.objectContaining({ name: 'tern-2', containerName: 'outer/f.yaml' }),
      expect.objectContaining({ name: 'a-tern', containerName: 'outer/f.yaml' }),
    ]);
    expect(await client.ask(WorkspaceSymbolRequest.type, { query: 'xyz' })).toEqual([]);
  });
});
