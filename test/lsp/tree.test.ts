import { expect, it } from 'vitest';
import { ErrorCodes, LSPErrorCodes } from 'vscode-languageserver/node';
import { treeChildrenRequest, treeDetailRequest } from '../../server/src/lsp/protocol.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';
import { overEveryConnection } from './harness/connections.ts';

overEveryConnection((connect) => {
  it('lists the tree of a base level by level', async () => {
    const client = await connect(ternBench);
    const top = await client.ask(treeChildrenRequest, {});
    expect(top).toEqual([
      {
        key: 'family/tern-2',
        label: 'Tern 2',
        description: '2 drives, no controlled pair yet',
        spoken: 'Family Tern 2, 2 drives, no controlled pair yet',
        icon: 'family',
        isCollapsible: true,
        uri: client.uriOf('families/tern.yaml'),
      },
      { key: 'base/maker', label: 'Makers', description: '1', spoken: 'Makers, 1', icon: 'maker', isCollapsible: true },
    ]);
    const groups = await client.ask(treeChildrenRequest, { key: 'family/tern-2' });
    expect(groups.map(({ label, isCollapsible }) => [label, isCollapsible])).toEqual([
      ['Boards', false],
      ['Drives', true],
      ['Outcomes', true],
      ['Rules', true],
    ]);
    const [moved] = await client.ask(treeChildrenRequest, { key: 'family/tern-2/outcome' });
    expect(moved).toMatchObject({ label: 'moved', icon: 'works', isCollapsible: false });
    expect(await client.ask(treeChildrenRequest, { key: 'family/tern-3' })).toEqual([]);
  });

  it('says of a record where it stands and what it is', async () => {
    const client = await connect(ternBench);
    const detail = await client.ask(treeDetailRequest, { key: 'family/tern-2/drive/d-0118' });
    const range = { start: { line: 6, character: 4 }, end: { line: 6, character: 10 } };
    expect(detail?.location).toEqual({ uri: client.uriOf('drives/tern.yaml'), range });
    expect(detail?.tooltip).toContain('**Drive** · `d-0118`');
    expect(await client.ask(treeDetailRequest, { key: 'family/tern-2/drive' })).toBeNull();
    expect(await client.ask(treeDetailRequest, { key: 'family/tern-2/drive/d-0119' })).toBeNull();
  });

  it('follows what is typed', async () => {
    const client = await connect(ternBench);
    await client.open('outcomes/left.yaml', `\n${outcome('left', 'left')}`);
    const outcomes = await client.ask(treeChildrenRequest, { key: 'family/tern-2/outcome' });
    expect(outcomes.map(({ label }) => label)).toEqual(['left', 'moved']);
    const detail = await client.ask(treeDetailRequest, { key: 'family/tern-2/outcome/left' });
    expect(detail?.location?.range.start.line).toBe(2);
  });

  it('is of the innermost base around an address, and needs one where there are several', async () => {
    const client = await connect({
      ...ternBench,
      'inner/swaplore.yaml': 'swaplore: 1\n',
      'inner/m.yaml': 'kind: maker\nid: auk\nname: Auk\n',
    });
    const labels = async (uri: string) => (await client.ask(treeChildrenRequest, { uri })).map(({ label }) => label);
    expect(await labels(client.uriOf('inner'))).toEqual(['Makers']);
    expect(await labels(client.uriOf('drives'))).toEqual(['Tern 2', 'Makers']);
    await expect(client.ask(treeChildrenRequest, {})).rejects.toMatchObject({ code: ErrorCodes.InvalidParams });
  });

  it('cannot be had where the config cannot be used', async () => {
    const client = await connect({ ...ternBench, 'swaplore.yaml': 'swaplore: 9\n' });
    await expect(client.ask(treeChildrenRequest, {})).rejects.toMatchObject({ code: LSPErrorCodes.RequestFailed });
  });
});
