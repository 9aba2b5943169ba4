import { expect, it } from 'vitest';
import { ErrorCodes, LSPErrorCodes } from 'vscode-languageserver/node';
import { reportRequest } from '../../server/src/lsp/protocol.ts';
import { named, readPage } from '../harness/read-page.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';
import { overEveryConnection } from './harness/connections.ts';

const broken = { ...ternBench, 'outcomes/left.yaml': outcome('left', 'left') };
const nonce = 'abcdefghijklmnop0123';

overEveryConnection((connect) => {
  it('is a page whose buttons lead to places in files', async () => {
    const client = await connect(broken);
    const { title, html, places } = await client.ask(reportRequest, { report: 'contradictions', nonce });
    expect(title).toBe('Harbour Street bench: Outcomes against rules');
    const page = readPage(html);
    expect(named(page, 'script').map(({ attributes }) => attributes)).toEqual([{ nonce }]);
    const led = named(page, 'button').flatMap(({ text, attributes: { 'data-place': number } }) => {
      const place = places[Number(number)];
      return place ? [`${text} -> ${client.pathOf(place.uri)}:${place.range.start.line + 1}`] : [];
    });
    expect(led).toEqual([
      'outcomes/left.yaml:7 -> outcomes/left.yaml:7',
      'rules/tern.yaml:4 -> rules/tern.yaml:4',
      'tern-rom-travels -> rules/tern.yaml:2',
    ]);
  });

  it('of a family is reached by a button, and leads to its records', async () => {
    const client = await connect(broken);
    const { html } = await client.ask(reportRequest, { report: 'overview', nonce });
    const [button] = named(readPage(html), 'button').filter(({ text }) => text === 'tern-2');
    expect(button?.attributes['data-report']).toBe('family/tern-2');
    const family = await client.ask(reportRequest, { report: 'family/tern-2', nonce });
    expect(family.title).toBe('Harbour Street bench: tern-2');
    expect(named(readPage(family.html), 'h1').map(({ text }) => text)).toEqual(['Tern 2 (tern-2)']);
    expect(new Set(family.places.map(({ uri }) => client.pathOf(uri)))).toEqual(
      new Set(['rules/tern.yaml', 'outcomes/left.yaml', 'outcomes/moved.yaml']),
    );
  });

  it('shows what an open document says, not what was saved of it', async () => {
    const client = await connect(ternBench);
    await client.open('outcomes/moved.yaml', `${outcome('moved', 'left')}`);
    const uri = client.uriOf('outcomes/moved.yaml');
    const { html } = await client.ask(reportRequest, { report: 'findings', uri, nonce });
    const found = readPage(html).elements.filter(({ attributes }) => attributes['class'] === 'finding error');
    expect(found.map(({ text }) => text)).toEqual([expect.stringContaining('Outcome moved reached reads, but rule')]);
  });

  it('is of the donors for a drive, each leading to its record', async () => {
    const client = await connect(ternBench);
    const { title, html, places } = await client.ask(reportRequest, { report: 'donors/d-0117', nonce });
    expect(title).toBe('Harbour Street bench: donors for d-0117');
    expect(named(readPage(html), 'h1').map(({ text }) => text)).toEqual(['Donors for d-0117: Harbour Street bench']);
    expect(places.every(({ uri }) => client.pathOf(uri) !== undefined)).toBe(true);
    const gone = client.ask(reportRequest, { report: 'donors/d-0119', nonce });
    await expect(gone).rejects.toMatchObject({ code: ErrorCodes.InvalidParams });
  });

  it('is refused where there is no such report, no base, or nothing to make a policy of', async () => {
    const client = await connect(broken);
    const refused = { code: ErrorCodes.InvalidParams };
    await expect(client.ask(reportRequest, { report: 'odd' as 'findings', nonce })).rejects.toMatchObject(refused);
    await expect(client.ask(reportRequest, { report: 'family/odd', nonce })).rejects.toMatchObject(refused);
    await expect(client.ask(reportRequest, { report: 'findings', nonce: "'unsafe-inline'xxx" })).rejects.toMatchObject(
      refused,
    );
    await expect(client.ask(reportRequest, { report: 'findings', nonce: '' })).rejects.toMatchObject(refused);
  });

  it('of findings says why a config cannot be used, and there is no other then', async () => {
    const client = await connect({ ...broken, 'swaplore.yaml': 'swaplore: 9\n' });
    const { html, places } = await client.ask(reportRequest, { report: 'findings', nonce });
    expect(readPage(html).elements.filter(({ attributes }) => attributes['class'] === 'finding error')).toHaveLength(1);
    expect(places.map(({ uri }) => client.pathOf(uri))).toEqual(['swaplore.yaml']);
    const other = client.ask(reportRequest, { report: 'overview', nonce });
    await expect(other).rejects.toMatchObject({ code: LSPErrorCodes.RequestFailed });
  });

  it('is of the innermost base around an address, and needs one where there are several', async () => {
    const client = await connect({ ...broken, 'inner/swaplore.yaml': 'swaplore: 1\nname: Inner bench\n' });
    const inner = await client.ask(reportRequest, { report: 'overview', uri: client.uriOf('inner'), nonce });
    expect(inner.title).toBe('Inner bench: Overview');
    const outer = await client.ask(reportRequest, { report: 'overview', uri: client.uriOf('drives'), nonce });
    expect(outer.title).toBe('Harbour Street bench: Overview');
    await expect(client.ask(reportRequest, { report: 'overview', nonce })).rejects.toMatchObject({
      code: ErrorCodes.InvalidParams,
    });
  });
});
