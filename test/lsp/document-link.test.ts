import { expect, it } from 'vitest';
import { DocumentLinkRequest } from 'vscode-languageserver';
import { overEveryConnection } from './harness/connections.ts';

overEveryConnection((connect) => {
  it('links files inside the base and web pages', async () => {
    const client = await connect({
      'drives/d.yaml': `kind: drive
id: d-1$0
rom_image: {file: ../roms/d 1.bin}
photos: [{file: ../../out.jpg}]
sources: [{title: Manual, url: 'https://manuals.example/a.pdf'}]
`,
    });
    const { textDocument } = await client.openAtCursor();
    const links = (await client.ask(DocumentLinkRequest.type, { textDocument })) ?? [];
    expect(links.map(({ range, target }) => [range.start.line, range.start.character, target])).toEqual([
      [2, 18, client.uriOf('roms/d%201.bin')],
      [4, 31, 'https://manuals.example/a.pdf'],
    ]);
  });
});
