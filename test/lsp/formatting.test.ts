import { expect, it } from 'vitest';
import { DocumentFormattingRequest, DocumentRangeFormattingRequest, type TextEdit } from 'vscode-languageserver';
import type { Client } from './harness/client.ts';
import { overEveryConnection } from './harness/connections.ts';
import { editedText } from './harness/edited-text.ts';

const untidy =
  'kind:   outcome\r\nid: a   # "💾 "  \r\nhost: {name: "💾",port: hba}\r\ncontrols:\r\n    # both\r\n    swapped_back:  both_work\r\n\r\n\r\n';
const tidy =
  'kind: outcome\r\nid: a   # "💾 "\r\nhost: { name: "💾", port: hba }\r\ncontrols:\r\n  # both\r\n  swapped_back: both_work\r\n';

/** Two spaces whatever the editor would have. */
const options = { tabSize: 8, insertSpaces: false };

function format(client: Client, path: string): Promise<TextEdit[] | null> {
  return client.ask(DocumentFormattingRequest.type, { textDocument: { uri: client.uriOf(path) }, options });
}

overEveryConnection((connect) => {
  it('lays a file out as it stands in the editor', async () => {
    const client = await connect({ 'outcome.yaml': 'kind: outcome\n' });
    await client.open('outcome.yaml', untidy);
    expect(editedText(untidy, await format(client, 'outcome.yaml'))).toBe(tidy);
    await client.change('outcome.yaml', [{ text: tidy }]);
    expect(await format(client, 'outcome.yaml')).toEqual([]);
  });

  it('leaves a broken document alone, and lays out its neighbour', async () => {
    const client = await connect({ 'a.yaml': 'kind:  drive\nid: [a\n---\nkind:  drive\nid:  b\n' });
    await client.open('a.yaml');
    expect(await format(client, 'a.yaml')).toEqual([
      { range: { start: { line: 3, character: 5 }, end: { line: 3, character: 7 } }, newText: ' ' },
      { range: { start: { line: 4, character: 3 }, end: { line: 4, character: 5 } }, newText: ' ' },
    ]);
  });

  it('lays out the lines of a range and no others', async () => {
    const client = await connect({ 'outcome.yaml': untidy });
    await client.open('outcome.yaml');
    const textDocument = { uri: client.uriOf('outcome.yaml') };
    const range = { start: { line: 3, character: 2 }, end: { line: 6, character: 0 } };
    const edits = await client.ask(DocumentRangeFormattingRequest.type, { textDocument, range, options });
    expect(editedText(untidy, edits)).toBe(
      untidy.replace('    # both', '  # both').replace('    swapped_back:  both', '  swapped_back: both'),
    );
  });

  it('counts characters as the client does', async () => {
    const capabilities = { general: { positionEncodings: ['utf-8'] } };
    const client = await connect({ 'a.yaml': '{kind: drive, id: "💾",x-a:   1 }\n' }, { capabilities });
    await client.open('a.yaml');
    const places = ((await format(client, 'a.yaml')) ?? []).map(({ range }) => range.start.character);
    expect(places).toEqual([1, 25, 29]);
  });

  it('has nothing to say of files outside every base', async () => {
    const client = await connect({});
    expect(
      await client.ask(DocumentFormattingRequest.type, { textDocument: { uri: 'untitled:a.yaml' }, options }),
    ).toBe(null);
  });
});
