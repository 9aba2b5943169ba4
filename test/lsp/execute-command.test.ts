import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import {
  ErrorCodes,
  ExecuteCommandRequest,
  LSPErrorCodes,
  ShowDocumentRequest,
  TextDocumentContentRefreshRequest,
  TextDocumentContentRequest,
} from 'vscode-languageserver/node';
import { commandRows } from '../../server/src/lsp/command-rows.ts';
import { folderOf, runInside } from '../harness/run-cli.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';
import type { Client } from './harness/client.ts';
import { overEveryConnection } from './harness/connections.ts';

const files = { ...ternBench, 'outcomes/left.yaml': outcome('left', 'left') };

/** A client that can be shown pages the server writes. */
const showing = {
  capabilities: {
    workspace: { textDocumentContent: {}, workspaceFolders: true },
    window: { showDocument: { support: true } },
  },
};

const [report, checkNow, odds] = ['swaplore.contradictions', 'swaplore.checkNow', 'swaplore.showOdds'];

function execute(client: Client, command: string, ...values: string[]): Promise<unknown> {
  return client.ask(ExecuteCommandRequest.type, { command, arguments: values });
}

/** What the command line prints of the same base. */
async function printed(): Promise<string> {
  return (await runInside(folderOf(files), ['contradictions', '--no-cache'])).stdout;
}

it('are all listed in the README, with what they do', () => {
  const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8').replace(/\s+/g, ' ');
  for (const { id, describe } of commandRows) expect(readme).toContain(`\`${id}\`: ${describe}`);
});

overEveryConnection((connect) => {
  it('says which commands there are', async () => {
    const { executeCommandProvider } = (await connect({})).initialized.capabilities;
    expect(executeCommandProvider).toEqual({ commands: commandRows.map(({ id }) => id) });
  });

  it('gives the report that the command line prints', async () => {
    const client = await connect(files);
    const text = await execute(client, report);
    expect(text).toContain('error: outcome/left (outcomes/left.yaml)');
    expect(text).toBe(await printed());
  });

  it('shows it as a page where the client can, and brings one that is open up to date', async () => {
    const client = await connect(files, showing);
    const said: string[] = [];
    client.connection.onRequest(TextDocumentContentRefreshRequest.type, ({ uri }) => {
      said.push(`refresh ${uri}`);
    });
    client.connection.onRequest(ShowDocumentRequest.type, ({ uri }) => {
      said.push(`show ${uri}`);
      return { success: true };
    });
    expect(await execute(client, report)).toBe(null);
    const uri = said[0]?.replace('refresh ', '') ?? '';
    expect(uri).toMatch(/^swaplore:\/contradictions\.txt\?/);
    expect(said).toEqual([`refresh ${uri}`, `show ${uri}`]);
    const { text } = await client.ask(TextDocumentContentRequest.type, { uri });
    expect(text).toBe(await printed());
    await client.open('outcomes/left.yaml', outcome('left', 'chip_moved'));
    expect((await client.ask(TextDocumentContentRequest.type, { uri })).text).toContain(
      'No recorded outcome breaks a rule.',
    );
  });

  it('gives the odds that the command line prints, and all that is known of a family', async () => {
    const client = await connect(files);
    expect(await execute(client, odds)).toBe((await runInside(folderOf(files), ['odds', '--no-cache'])).stdout);
    const text = await execute(client, odds, client.uriOf('drives/tern.yaml'), 'tern-2');
    expect(text).toMatch(/^Tern 2 \(tern-2\)\n/);
    await expect(execute(client, odds, client.uriOf(''), 'odd')).rejects.toMatchObject({
      message: 'There is no family odd in this base.',
    });
  });

  it('shows odds as pages where the client can', async () => {
    const client = await connect(files, showing);
    const shown: string[] = [];
    client.connection.onRequest(TextDocumentContentRefreshRequest.type, () => undefined);
    client.connection.onRequest(ShowDocumentRequest.type, ({ uri }) => {
      shown.push(uri);
      return { success: true };
    });
    expect(await execute(client, odds, client.uriOf(''), 'tern-2')).toBe(null);
    expect(await execute(client, odds)).toBe(null);
    const texts: string[] = [];
    for (const uri of shown) texts.push((await client.ask(TextDocumentContentRequest.type, { uri })).text);
    expect(texts).toEqual([expect.stringMatching(/^Tern 2 \(tern-2\)\n/), expect.stringMatching(/^Odds: /)]);
  });

  it('gives the text where a client that can show pages does not', async () => {
    const client = await connect(files, showing);
    client.connection.onRequest(TextDocumentContentRefreshRequest.type, () => undefined);
    client.connection.onRequest(ShowDocumentRequest.type, () => ({ success: false }));
    expect(await execute(client, report)).toBe(await printed());
  });

  it('reads everything again and counts what it finds', async () => {
    const client = await connect(files);
    const before = { root: client.uriOf('').slice(0, -1), name: 'Harbour Street bench', files: 7, records: 7 };
    expect(await execute(client, checkNow)).toEqual({ bases: [before], summary: { error: 1, warning: 0, info: 0 } });
    client.write('outcomes/left.yaml', undefined);
    client.write('makers/terr.yaml', 'kind: maker\nid: terr\nname: Terr\nnmae: 1\nnotess: a\n');
    client.write('swaplore.yaml', 'swaplore: 1\nname: Shelf\n');
    const { root } = before;
    expect(await execute(client, checkNow, client.uriOf('makers/terr.yaml'))).toEqual({
      bases: [{ root, name: 'Shelf', files: 7, records: 7 }],
      summary: { error: 2, warning: 0, info: 0 },
    });
    expect(await execute(client, checkNow, root)).toMatchObject({ bases: [{ root }] });
  });

  it('has to be told which of several bases is meant', async () => {
    const inner = { 'inner/swaplore.yaml': 'swaplore: 1\nname: Inner\n' };
    const client = await connect({ ...files, ...inner });
    await expect(execute(client, report)).rejects.toMatchObject({
      code: ErrorCodes.InvalidParams,
      message: expect.stringMatching(
        /^There are several bases here: .*Inner.*\. The address of a file in one of them says which is meant\.$/,
      ),
    });
    expect(await execute(client, report, client.uriOf('inner/a.yaml'))).toMatch(/^Outcomes against rules: Inner\n/);
    expect(await execute(client, checkNow)).toMatchObject({ bases: [{}, {}] });
    expect(await execute(client, checkNow, client.uriOf('inner'))).toMatchObject({ bases: [{ name: 'Inner' }] });
  });

  it('says what it cannot do', async () => {
    const client = await connect({ 'swaplore.yaml': 'swaplore: 2\n' });
    await expect(execute(client, report)).rejects.toMatchObject({
      code: LSPErrorCodes.RequestFailed,
      message: expect.stringMatching(/^The base .+ has a config that cannot be used\.$/),
    });
    await expect(execute(client, report, 'elsewhere:/a.yaml')).rejects.toMatchObject({
      message: '"elsewhere:/a.yaml" is no address in a base.',
    });
    await expect(execute(client, 'swaplore.guess')).rejects.toMatchObject({
      message: 'There is no command swaplore.guess.',
    });
  });
});
