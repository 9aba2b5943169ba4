import { readFileSync } from 'node:fs';
import { expect, it, vi } from 'vitest';
import { CodeLensRequest, ConfigurationRequest } from 'vscode-languageserver/node';
import { readSettings, settingRows } from '../../server/src/lsp/settings.ts';
import { overEveryConnection } from './harness/connections.ts';

it('reads settings nested or by dotted names, and takes the usual for what is missing or no switch', () => {
  const usual = readSettings(undefined);
  expect(usual).toEqual(Object.fromEntries(settingRows.map((row) => [row.name, row.default])));
  expect(readSettings({ lenses: { rules: false, families: 'no' } })).toEqual({ ...usual, 'lenses.rules': false });
  expect(readSettings({ 'hints.decoded': false, hints: null })).toEqual({ ...usual, 'hints.decoded': false });
  expect(readSettings('off')).toEqual(usual);
});

it('are all listed in the README, with what they do', () => {
  const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8').replace(/\s+/g, ' ');
  for (const { name, describe } of settingRows) expect(readme).toContain(`\`swaplore.${name}\`: ${describe}`);
});

const maker = 'kind: maker\nid: harbour\nname: Harbour\n';
const family = '---\nkind: family\nid: tern-2\nname: Tern 2\nmaker: harbour\n';

overEveryConnection((connect) => {
  it('are taken at the start, and again when the client sends others', async () => {
    const client = await connect(
      { 'a.yaml': maker + family },
      { initializationOptions: { lenses: { families: false } } },
    );
    await client.open('a.yaml');
    const textDocument = { uri: client.uriOf('a.yaml') };
    const lenses = async () => (await client.ask(CodeLensRequest.type, { textDocument }))?.length;
    expect(await lenses()).toBe(0);
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: { swaplore: {} } });
    expect(await lenses()).toBe(1);
  });

  it('stay as they were at the start where a client that is asked has nothing to say of them', async () => {
    const client = await connect(
      { 'a.yaml': maker + family },
      {
        capabilities: { workspace: { configuration: true, workspaceFolders: true } },
        initializationOptions: { lenses: { families: false } },
      },
    );
    const asked: string[] = [];
    client.connection.onRequest(ConfigurationRequest.type, ({ items }) => {
      asked.push(...items.map(({ section = '' }) => section));
      return items.map(() => null);
    });
    await client.open('a.yaml');
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    await vi.waitFor(() => expect(asked).toEqual(['swaplore', 'swaplore']), 20_000);
    const textDocument = { uri: client.uriOf('a.yaml') };
    expect(await client.ask(CodeLensRequest.type, { textDocument })).toEqual([]);
  });
});
