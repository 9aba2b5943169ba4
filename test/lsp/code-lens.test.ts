import { expect, it } from 'vitest';
import { CodeLensRefreshRequest, CodeLensRequest } from 'vscode-languageserver/node';
import type { Client } from './harness/client.ts';
import { overEveryConnection } from './harness/connections.ts';

const rule = 'kind: rule\nid: tern-rom-travels\nclaim: needs\nwhen: {rom_travels: true}\n';

const outcome =
  'kind: outcome\nid: one\ndate: 2026-03-14\npatient: a\ndonor: b\nrom: chip_moved\nreached: reads\nresult: works\n';

const files = {
  'makers.yaml': 'kind: maker\nid: harbour\nname: Harbour\n',
  'families.yaml':
    '# flat tins\nkind: family\nid: tern-2\nmaker: harbour\nname: Tern 2\nadaptives: {stored_in: rom_chip}\n',
  'drives.yaml': 'kind: drive\nid: a\nfamily: tern-2\n---\nkind: drive\nid: b\nfamily: tern-2\n',
  'outcome.yaml': outcome,
  'rules.yaml': rule,
};

/** The lines that lenses stand above, and what they say. */
async function lensesOf(client: Client, path: string): Promise<string[]> {
  const lenses = await client.ask(CodeLensRequest.type, { textDocument: { uri: client.uriOf(path) } });
  return (lenses ?? []).map(({ range, command }) => `${range.start.line}: ${command?.title}`);
}

overEveryConnection((connect) => {
  it('shows figures above rules and families, once the whole base is read', async () => {
    const client = await connect(files);
    await client.open('rules.yaml');
    await client.open('families.yaml');
    expect(await lensesOf(client, 'rules.yaml')).toEqual(['0: 1 outcome in support · 0 against · 0 undecided']);
    expect(await lensesOf(client, 'families.yaml')).toEqual([
      '1: no pair with every control yet · not counted: 1 that worked without every control',
    ]);
  });

  it('counts what an editor holds and nobody has saved', async () => {
    const client = await connect(files);
    await client.open('rules.yaml');
    await client.open('outcome.yaml', outcome.replace('chip_moved', 'left'));
    expect(await lensesOf(client, 'rules.yaml')).toEqual(['0: 0 outcomes in support · 1 against · 0 undecided']);
  });

  it('carries the record and its figures, for a command that shows more', async () => {
    const client = await connect(files);
    await client.open('rules.yaml');
    const [lens] =
      (await client.ask(CodeLensRequest.type, { textDocument: { uri: client.uriOf('rules.yaml') } })) ?? [];
    expect(lens).toMatchObject({
      range: { start: { line: 0, character: 0 }, end: { line: 0, character: 4 } },
      data: { record: 'rule/tern-rom-travels', figures: { support: 1, against: 0, undecided: 0, excepted: 0 } },
    });
  });

  it('of a family leads to its page, that of a rule nowhere', async () => {
    const client = await connect(files);
    const leads: unknown[] = [];
    for (const path of ['families.yaml', 'rules.yaml']) {
      await client.open(path);
      const lenses = await client.ask(CodeLensRequest.type, { textDocument: { uri: client.uriOf(path) } });
      leads.push(lenses?.map(({ command }) => [command?.command, ...(command?.arguments ?? [])]));
    }
    expect(leads).toEqual([[['swaplore.showOdds', client.uriOf('families.yaml'), 'tern-2']], [['']]]);
  });

  it('shows none that are not wanted, and none of a file outside every base', async () => {
    const client = await connect(files, { initializationOptions: { lenses: { rules: false } } });
    await client.open('rules.yaml');
    expect(await lensesOf(client, 'rules.yaml')).toEqual([]);
    expect(await client.ask(CodeLensRequest.type, { textDocument: { uri: 'untitled:rules.yaml' } })).toBeNull();
  });

  it('has the client ask again when another file changes the figures', async () => {
    const client = await connect(files, { capabilities: { workspace: { codeLens: { refreshSupport: true } } } });
    let tell: () => void = () => undefined;
    client.connection.onRequest(CodeLensRefreshRequest.type, () => tell());
    const toldAgain = () => new Promise<void>((resolve) => (tell = resolve));
    const first = toldAgain();
    await client.open('rules.yaml');
    await first;
    const second = toldAgain();
    await client.open('outcome.yaml', outcome.replace('chip_moved', 'left'));
    await second;
    expect(await lensesOf(client, 'rules.yaml')).toEqual(['0: 0 outcomes in support · 1 against · 0 undecided']);
  });
});
