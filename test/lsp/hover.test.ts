import { expect, it } from 'vitest';
import { HoverRequest, MarkupKind } from 'vscode-languageserver/node';
import { type Connect, connectInMemory, overEveryConnection } from './harness/connections.ts';

const files = {
  'makers.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
  'boards.yaml': `kind: board
id: kestrel
maker: wren
part_number: KS-7
revisions: [{rev: A1, photos: [{file: photos/a 1.svg, shows: "<b>Front</b>"}]}]
`,
};

const markdown = { textDocument: { hover: { contentFormat: [MarkupKind.Markdown, MarkupKind.PlainText] } } };

/** What a client with these capabilities is shown at the cursor. */
async function shown(connect: Connect, drive: string, capabilities: object = markdown) {
  const client = await connect({ ...files, 'drives.yaml': drive }, { capabilities });
  return client.ask(HoverRequest.type, await client.openAtCursor());
}

overEveryConnection((connect) => {
  it('explains a key', async () => {
    const found = await shown(connect, 'kind: drive\nid: d-1\nmo$0del: TN-1\n');
    expect(found?.range).toEqual({ start: { line: 2, character: 0 }, end: { line: 2, character: 5 } });
    expect(found?.contents).toMatchObject({
      kind: 'markdown',
      value: expect.stringMatching(/^\*\*Model\*\* · `model`\n\n/),
    });
  });

  it('shows the record a value names as soon as its file is read', async () => {
    const client = await connect(
      { ...files, 'drives.yaml': 'kind: drive\nid: d-1\nfamily: te$0rn-2\n' },
      { capabilities: markdown },
    );
    const params = await client.openAtCursor();
    const read = async (): Promise<string> =>
      JSON.stringify((await client.ask(HoverRequest.type, params))?.contents ?? '');
    await expect.poll(read, { timeout: 20_000 }).toContain('Family name');
  });
});

it('links photos by their address in the base', async () => {
  const client = await connectInMemory(
    { ...files, 'boards.yaml': files['boards.yaml'].replace('A1', '$0A1') },
    { capabilities: markdown },
  );
  const found = await client.ask(HoverRequest.type, await client.openAtCursor());
  expect(found?.contents).toMatchObject({
    value: expect.stringContaining(
      `Photo: [\`photos/a 1.svg\`](<${client.uriOf('photos/a%201.svg')}>): \\<b\\>Front\\</b\\>`,
    ),
  });
});

it('takes plain text for a client that asks for nothing else', async () => {
  const found = await shown(connectInMemory, 'kind: drive\nid: d-1\nmo$0del: TN-1\n', {});
  expect(found?.contents).toMatchObject({ kind: 'plaintext', value: expect.stringMatching(/^Model · `model`\n\n/) });
});

it('has nothing to say in gaps, and of files that are not open', async () => {
  const client = await connectInMemory({ ...files, 'drives.yaml': 'kind: drive\nid: d-1 # her$0e\n' });
  const { position } = await client.openAtCursor();
  for (const path of ['drives.yaml', 'makers.yaml']) {
    expect(await client.ask(HoverRequest.type, { textDocument: { uri: client.uriOf(path) }, position })).toBeNull();
  }
});
