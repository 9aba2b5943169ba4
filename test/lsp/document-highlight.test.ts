import { expect, it } from 'vitest';
import { DocumentHighlightKind, DocumentHighlightRequest } from 'vscode-languageserver';
import { overEveryConnection } from './harness/connections.ts';

overEveryConnection((connect) => {
  it('marks where the open file writes and reads an id', async () => {
    const client = await connect({
      'a.yaml': 'kind: maker\nid: harbour\nname: H\n---\nkind: family\nid: tern-2\nmaker: harb$0our\nname: Tern 2\n',
    });
    const params = await client.openAtCursor();
    expect(await client.ask(DocumentHighlightRequest.type, params)).toEqual([
      {
        range: { start: { line: 1, character: 4 }, end: { line: 1, character: 11 } },
        kind: DocumentHighlightKind.Write,
      },
      {
        range: { start: { line: 6, character: 7 }, end: { line: 6, character: 14 } },
        kind: DocumentHighlightKind.Read,
      },
    ]);
  });
});
