import { expect, it } from 'vitest';
import { DefinitionRequest } from 'vscode-languageserver';
import { overEveryConnection } from './harness/connections.ts';

const maker = 'kind: maker\nid: harbour\nname: Harbour\n';
const family = 'kind: family\nid: tern-2\nmaker: harb$0our\nname: Tern 2\n';
const there = { start: { line: 1, character: 4 }, end: { line: 1, character: 11 } };

overEveryConnection((connect) => {
  it('leads to the record a reference names, in a file nobody has opened', async () => {
    const client = await connect({ 'makers/harbour.yaml': maker, 'families.yaml': family });
    const params = await client.openAtCursor();
    expect(await client.ask(DefinitionRequest.type, params)).toEqual([
      { uri: client.uriOf('makers/harbour.yaml'), range: there },
    ]);
  });

  it('marks what was followed for clients that show it', async () => {
    const capabilities = { textDocument: { definition: { linkSupport: true } } };
    const client = await connect({ 'makers.yaml': maker, 'families.yaml': family }, { capabilities });
    const params = await client.openAtCursor();
    expect(await client.ask(DefinitionRequest.type, params)).toEqual([
      {
        originSelectionRange: { start: { line: 2, character: 7 }, end: { line: 2, character: 14 } },
        targetUri: client.uriOf('makers.yaml'),
        targetRange: there,
        targetSelectionRange: there,
      },
    ]);
  });

  it('follows what an editor holds and has not saved', async () => {
    const client = await connect({ 'makers.yaml': maker, 'families.yaml': family });
    await client.open('makers.yaml', `# first\n${maker}`);
    const params = await client.openAtCursor();
    const [location] = [(await client.ask(DefinitionRequest.type, params)) ?? []].flat();
    expect(location).toMatchObject({ range: { start: { line: 2, character: 4 } } });
  });

  it('leads nowhere where nothing is named, and from ids that nobody recorded', async () => {
    const client = await connect({ 'families.yaml': family });
    const params = await client.openAtCursor();
    expect(await client.ask(DefinitionRequest.type, params)).toEqual([]);
    const position = { line: 3, character: 8 };
    expect(await client.ask(DefinitionRequest.type, { ...params, position })).toBeNull();
  });
});
