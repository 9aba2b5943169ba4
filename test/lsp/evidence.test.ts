import { expect, it } from 'vitest';
import { ErrorCodes } from 'vscode-languageserver/node';
import { choicesRequest, compareImagesRequest, traceRequest } from '../../server/src/lsp/protocol.ts';
import { named, readPage } from '../harness/read-page.ts';
import { fullSerials, tracedBench } from '../harness/traced-bench.ts';
import { overEveryConnection } from './harness/connections.ts';

const nonce = 'abcdefghijklmnop0123';
const refused = { code: ErrorCodes.InvalidParams };

/** Some bytes that are no chip's, and look like none that is blank. */
function sent(name: string, changedAt?: number): { readonly name: string; readonly base64: string } {
  const bytes = Uint8Array.from({ length: 2 ** 16 }, (_, at) => (at * 7919 + (at >> 8)) & 0xff);
  if (changedAt !== undefined) bytes[changedAt] = (bytes[changedAt] ?? 0) ^ 0xff;
  return { name, base64: Buffer.from(bytes).toString('base64') };
}

function paragraphsOf(html: string): readonly string[] {
  return named(readPage(html), 'p').map(({ text }) => text);
}

overEveryConnection((connect) => {
  it('offers outcomes that name captures, and drives', async () => {
    const client = await connect(tracedBench());
    expect(await client.ask(choicesRequest, { of: 'traces' })).toEqual([
      { id: 'traced', detail: 'd-0117 with the board of d-0118' },
    ]);
    const drives = await client.ask(choicesRequest, { of: 'drives' });
    expect(drives.map(({ id }) => id)).toEqual(['d-0117', 'd-0118']);
  });

  it('offers families with how they fared, and says at which one somebody is', async () => {
    const client = await connect(tracedBench());
    const none = { id: 'tern-2', detail: 'no controlled pair yet' };
    expect(await client.ask(choicesRequest, { of: 'families' })).toEqual([none]);
    const uri = client.uriOf('drives/tern.yaml');
    const position = { line: 1, character: 0 };
    expect(await client.ask(choicesRequest, { of: 'families', uri, position })).toEqual([none]);
    await client.open('drives/tern.yaml');
    expect(await client.ask(choicesRequest, { of: 'families', uri, position })).toEqual([{ ...none, isHere: true }]);
    const marked = await client.ask(choicesRequest, { of: 'drives', uri, position });
    expect(marked.filter(({ isHere }) => isHere).map(({ id }) => id)).toEqual(['d-0117']);
  });

  it('traces the captures of an outcome, and shows no whole serial number', async () => {
    const client = await connect(tracedBench());
    const { title, html } = await client.ask(traceRequest, { outcome: 'traced', nonce });
    expect(title).toBe('Trace: traced');
    expect(paragraphsOf(html)).toContainEqual(expect.stringContaining('followed the platters.'));
    for (const serial of Object.values(fullSerials)) expect(html).not.toContain(serial);
    await expect(client.ask(traceRequest, { outcome: 'moved', nonce })).rejects.toMatchObject(refused);
    await expect(client.ask(traceRequest, { outcome: 'none', nonce })).rejects.toMatchObject(refused);
    await expect(client.ask(traceRequest, { outcome: 'traced', nonce: "'x'" })).rejects.toMatchObject(refused);
  });

  it('compares images that the client sends', async () => {
    const client = await connect(tracedBench());
    const [read1, same, other] = [sent('a.bin'), sent('b.bin'), sent('c.bin', 9000)];
    const agreed = await client.ask(compareImagesRequest, { read1, read2: same, drive: 'd-0117', nonce });
    expect(agreed.title).toBe('ROM images: d-0117');
    expect(paragraphsOf(agreed.html)).toContainEqual(expect.stringContaining('Both reads agree'));
    const differing = await client.ask(compareImagesRequest, { read1, read2: other, nonce });
    expect(paragraphsOf(differing.html)).toContainEqual(expect.stringContaining('read again'));
    await expect(client.ask(compareImagesRequest, { read1, drive: 'd-9', nonce })).rejects.toMatchObject(refused);
    await expect(client.ask(compareImagesRequest, { read1: { name: 'a', base64: '%' }, nonce })).rejects.toMatchObject(
      refused,
    );
  });
});
