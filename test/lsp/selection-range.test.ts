import { expect, it } from 'vitest';
import { type SelectionRange, SelectionRangeRequest } from 'vscode-languageserver';
import { overEveryConnection } from './harness/connections.ts';

overEveryConnection((connect) => {
  it('grows from a value to the text, for each position asked about', async () => {
    const client = await connect({ 'a.yaml': 'kind: drive\nboard: {id: n$0b}\n' });
    const { textDocument, position } = await client.openAtCursor();
    const positions = [position, { line: 0, character: 2 }];
    const found = (await client.ask(SelectionRangeRequest.type, { textDocument, positions })) ?? [];
    const startsOf = (selection: SelectionRange | undefined): string[] =>
      selection
        ? [`${selection.range.start.line}:${selection.range.start.character}`, ...startsOf(selection.parent)]
        : [];
    expect(found.map(startsOf)).toEqual([
      ['1:12', '1:8', '1:7', '1:0', '0:0', '0:0'],
      ['0:0', '0:0', '0:0', '0:0'],
    ]);
  });
});
