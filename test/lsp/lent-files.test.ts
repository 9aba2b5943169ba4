import { expect, it } from 'vitest';
import { DocumentDiagnosticRequest, WorkspaceDiagnosticRequest } from 'vscode-languageserver/node';
import { connectInMemory } from './harness/connections.ts';

const maker = 'kind: maker\nid: harbour\nname: Harbour\n';
const pulling = { textDocument: { diagnostic: {} }, workspace: { diagnostics: { refreshSupport: true } } };

it('a client that lends no files is asked for none, and answered all the same', async () => {
  const client = await connectInMemory(
    { 'makers.yaml': maker },
    { capabilities: pulling, initializationOptions: { files: false } },
  );
  await client.open('makers.yaml', `${maker}nmae: 1\n`);
  const textDocument = { uri: client.uriOf('makers.yaml') };
  await expect(client.ask(DocumentDiagnosticRequest.type, { textDocument })).resolves.toMatchObject({ items: [] });
  await expect(client.ask(WorkspaceDiagnosticRequest.type, { previousResultIds: [] })).resolves.toEqual({ items: [] });
  expect(client.asked).toEqual([]);
});

it('a client that lends its files is asked for each of them once', async () => {
  const paths = Array.from({ length: 300 }, (_, number) => `makers/m-${number}.yaml`);
  const files = Object.fromEntries(paths.map((path, number) => [path, maker.replace('harbour', `m-${number}`)]));
  const client = await connectInMemory(files, { capabilities: pulling });
  await client.ask(WorkspaceDiagnosticRequest.type, { previousResultIds: [] });
  const read = client.asked.filter((path) => !path.endsWith('/'));
  expect(read.filter((path) => path.includes('/makers/')).sort()).toEqual(
    paths.map((path) => client.uriOf(path)).sort(),
  );
  expect(new Set(read.filter((path) => !path.includes('/makers/')))).toEqual(new Set([client.uriOf('swaplore.yaml')]));
});
