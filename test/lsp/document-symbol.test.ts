import { expect, it } from 'vitest';
import { DocumentSymbolRequest, SymbolKind } from 'vscode-languageserver';
import { overEveryConnection } from './harness/connections.ts';

const files = { 'a.yaml': 'kind: board\nid: $0nb\nrevisions:\n- rev: A\n  roms: [{}]\n---\nkind: drive\n' };

overEveryConnection((connect) => {
  it('gives records and what is in them as a tree', async () => {
    const capabilities = { textDocument: { documentSymbol: { hierarchicalDocumentSymbolSupport: true } } };
    const client = await connect(files, { capabilities });
    const { textDocument } = await client.openAtCursor();
    expect(await client.ask(DocumentSymbolRequest.type, { textDocument })).toMatchObject([
      {
        name: 'nb',
        detail: 'board',
        kind: SymbolKind.Interface,
        range: { start: { line: 0, character: 0 } },
        selectionRange: { start: { line: 1, character: 4 }, end: { line: 1, character: 6 } },
        children: [
          {
            name: 'revisions',
            kind: SymbolKind.Array,
            children: [{ name: 'roms', kind: SymbolKind.Array, children: [] }],
          },
        ],
      },
      { name: 'drive', kind: SymbolKind.File, children: [] },
    ]);
  });

  it('gives them as a list to clients that know no tree', async () => {
    const client = await connect(files);
    const { textDocument } = await client.openAtCursor();
    const symbols = (await client.ask(DocumentSymbolRequest.type, { textDocument })) ?? [];
    expect(symbols.map((symbol) => ('location' in symbol ? [symbol.name, symbol.containerName] : []))).toEqual([
      ['nb', undefined],
      ['revisions', 'nb'],
      ['roms', 'revisions'],
      ['drive', undefined],
    ]);
  });
});
