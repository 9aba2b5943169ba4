import { expect, it } from 'vitest';
import { InlayHintRequest } from 'vscode-languageserver/node';
import type { Client } from './harness/client.ts';
import { overEveryConnection } from './harness/connections.ts';

const files = {
  'makers.yaml':
    'kind: maker\nid: harbour\nname: Harbour\nouis: [00-00-5E]\ndate_code: [{scheme: iso_week, format: YYWW}]\n',
  'families.yaml': 'kind: family\nid: tern-2\nmaker: harbour\nname: Tern 2\n',
  'drives.yaml':
    'kind: drive\nid: a\nfamily: tern-2\ncountry: "Österreich 💾"\ndate_code: "1231" # 💾\nwwn: "500005e0004c1d93"\n---\nkind: drive\nid: b\nfamily: tern-2\n',
  'outcome.yaml':
    'kind: outcome\nid: one\ndate: 2026-03-14\npatient: a\ndonor: b\nrom: left\nreached: spins\nresult: fails\n',
};

/** The hints of some lines of a file, each with where it stands. */
async function hintsOf(client: Client, path: string, first = 0, last = 100): Promise<string[]> {
  const range = { start: { line: first, character: 0 }, end: { line: last, character: 0 } };
  const hints = await client.ask(InlayHintRequest.type, { textDocument: { uri: client.uriOf(path) }, range });
  return (hints ?? []).map(({ position, label }) => `${position.line}:${position.character} ${label}`);
}

overEveryConnection((connect) => {
  it('shows what the base makes of values, once it is all read', async () => {
    const client = await connect(files);
    await client.open('drives.yaml');
    await client.open('outcome.yaml');
    expect(await hintsOf(client, 'drives.yaml')).toEqual(['4:17 2012-W31', '5:23 harbour']);
    expect(await hintsOf(client, 'outcome.yaml')).toEqual(['7:13 verdict: inconclusive (unproved: donor, patient)']);
  });

  it('answers for the lines it is asked about', async () => {
    const client = await connect(files);
    await client.open('drives.yaml');
    expect(await hintsOf(client, 'drives.yaml', 5, 6)).toEqual(['5:23 harbour']);
    expect(await hintsOf(client, 'drives.yaml', 7, 100)).toEqual([]);
  });

  it('says why in plain text', async () => {
    const client = await connect(files);
    await client.open('drives.yaml');
    const textDocument = { uri: client.uriOf('drives.yaml') };
    const range = { start: { line: 5, character: 0 }, end: { line: 6, character: 0 } };
    const [hint] = (await client.ask(InlayHintRequest.type, { textDocument, range })) ?? [];
    expect(hint?.tooltip).toBe('The prefix `00-00-5E` of this world-wide name is recorded for maker `harbour`.');
  });

  it('counts characters as the client does', async () => {
    const onOneLine = {
      ...files,
      'drives.yaml':
        'kind: drive\nid: a\nfamily: tern-2\nboard: {sticker: "💾"}\n---\n{kind: drive, id: b, family: tern-2, country: "💾", date_code: "1231"}\n',
    };
    const capabilities = { general: { positionEncodings: ['utf-8'] } };
    const [utf16, utf8] = [await connect(onOneLine), await connect(onOneLine, { capabilities })];
    for (const client of [utf16, utf8]) await client.open('drives.yaml');
    expect(await hintsOf(utf16, 'drives.yaml')).toEqual(['5:69 2012-W31']);
    expect(await hintsOf(utf8, 'drives.yaml')).toEqual(['5:71 2012-W31']);
  });

  it('shows none that are not wanted, and none of a file outside every base', async () => {
    const client = await connect(files, { initializationOptions: { 'hints.decoded': false } });
    await client.open('drives.yaml');
    expect(await hintsOf(client, 'drives.yaml')).toEqual([]);
    const range = { start: { line: 0, character: 0 }, end: { line: 1, character: 0 } };
    expect(await client.ask(InlayHintRequest.type, { textDocument: { uri: 'untitled:a.yaml' }, range })).toBeNull();
  });
});
