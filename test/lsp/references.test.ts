import { expect, it } from 'vitest';
import { ReferencesRequest } from 'vscode-languageserver';
import { overEveryConnection } from './harness/connections.ts';

const files = {
  'makers.yaml': 'kind: maker\nid: $0harbour\nname: Harbour\n',
  'b.yaml': 'kind: family\nid: tern-2\nmaker: harbour\nname: Tern 2\n',
  'a.yaml': 'kind: family\nid: tern-1\nname: Tern 1\nmaker: "harbour"\n',
};

overEveryConnection((connect) => {
  it('finds references in all files of the base, and the declaration where it is wanted', async () => {
    const client = await connect(files);
    const params = await client.openAtCursor();
    const found = async (includeDeclaration: boolean) => {
      const locations = await client.ask(ReferencesRequest.type, { ...params, context: { includeDeclaration } });
      return (locations ?? []).map(({ uri, range }) => [uri, range.start.line, range.start.character]);
    };
    const references = [
      [client.uriOf('a.yaml'), 3, 7],
      [client.uriOf('b.yaml'), 2, 7],
    ];
    expect(await found(false)).toEqual(references);
    expect(await found(true)).toEqual([[client.uriOf('makers.yaml'), 1, 4], ...references]);
  });
});
