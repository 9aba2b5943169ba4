import { expect, it } from 'vitest';
import { overEveryConnection } from './harness/connections.ts';

const maker = 'kind: maker\nid: harbour\nname: Harbour\n';
const family = 'kind: family\nid: tern-2\nname: Tern 2\nmaker: harbour\n';

overEveryConnection((connect) => {
  it('follows a file that is removed and made again while it is open', async () => {
    const client = await connect({ 'makers.yaml': maker, 'families.yaml': family });
    await client.open('makers.yaml');
    await client.open('families.yaml');
    await client.save('makers.yaml', undefined);
    await client.close('makers.yaml');
    await client.untilFound('families.yaml', ['dangling-reference']);
    await client.save('makers.yaml', maker);
    await client.untilFound('families.yaml', []);
  });

  it('takes what an editor holds for the file, whatever is saved meanwhile', async () => {
    const client = await connect({ 'makers.yaml': maker, 'families.yaml': family });
    await client.open('makers.yaml', maker.replace('harbour', 'haven'));
    await client.untilFound('families.yaml', ['dangling-reference']);
    await client.save('makers.yaml', `${maker}# saved\n`);
    await client.save('drives.yaml', 'kind: drive\nid: d-1\n');
    await client.until(() => 'drives.yaml' in client.diagnostics);
    expect(client.diagnostics['families.yaml']).toMatchObject([{ code: 'dangling-reference' }]);
    await client.close('makers.yaml');
    await client.untilFound('families.yaml', []);
  });

  it('goes on under another config, saved or not, and comes back from a broken one', async () => {
    const client = await connect({ 'families.yaml': family, 'old/b.yaml': 'kind: maker\n' });
    await client.untilFound('families.yaml', ['dangling-reference']);
    await client.untilFound('old/b.yaml', ['schema', 'schema']);
    await client.save('swaplore.yaml', 'swaplore: 1\nignore: [old/]\nseverity: {dangling-reference: off}\n');
    await client.untilFound('old/b.yaml', []);
    await client.untilFound('families.yaml', []);
    await client.open('swaplore.yaml', 'swaplore: 2\n');
    await client.untilFound('swaplore.yaml', ['config-invalid']);
    await client.close('swaplore.yaml');
    await client.untilFound('swaplore.yaml', []);
    await client.save('swaplore.yaml', 'swaplore: 1\n');
    await client.untilFound('families.yaml', ['dangling-reference']);
    await client.untilFound('old/b.yaml', ['schema', 'schema']);
  });

  it('knows several bases, and that an inner one is none of the outer', async () => {
    const inner = { 'inner/swaplore.yaml': 'swaplore: 1\n', 'inner/families.yaml': family };
    const client = await connect({ 'makers.yaml': maker, 'families.yaml': family, ...inner });
    await client.untilFound('inner/families.yaml', ['dangling-reference']);
    expect(client.diagnostics).not.toHaveProperty(['families.yaml']);
    await client.save('inner/swaplore.yaml', undefined);
    await client.untilFound('inner/families.yaml', ['duplicate-id']);
    await client.save('inner/swaplore.yaml', 'swaplore: 1\n');
    await client.untilFound('inner/families.yaml', ['dangling-reference']);
    expect(client.diagnostics).not.toHaveProperty(['families.yaml']);
  });

  it('says nothing of files that belong to no base', async () => {
    const client = await connect({ 'swaplore.yaml': 'swaplore: 1\nignore: [drafts/]\n', 'makers.yaml': maker });
    await client.open('drafts/a.yaml', 'kind: maker\n');
    await client.open('makers.yaml', `${maker}nmae: 1\n`);
    await client.untilFound('makers.yaml', ['unknown-key']);
    expect(Object.keys(client.diagnostics)).toEqual(['makers.yaml']);
  });

  it('forgets the files of a folder that is removed', async () => {
    const client = await connect({ 'bin/one/makers.yaml': 'kind: maker\n', 'bin/two.yaml': 'kind: maker\n' });
    await client.untilFound('bin/one/makers.yaml', ['schema', 'schema']);
    client.write('bin/one/makers.yaml', undefined);
    client.write('bin/two.yaml', undefined);
    await client.tellOf('bin');
    await client.until(() => Object.keys(client.diagnostics).length === 0);
  });

  it('takes an open document in and out as the config has it', async () => {
    const client = await connect({
      'swaplore.yaml': 'swaplore: 1\nignore: [drafts/]\n',
      'drafts/a.yaml': 'kind: maker\n',
    });
    await client.open('drafts/a.yaml', 'kind: drive\nid: d-1\nnmae: 1\n');
    await client.open('swaplore.yaml');
    await client.change('swaplore.yaml', [{ text: 'swaplore: 1\n' }]);
    await client.until(() => JSON.stringify(client.diagnostics['drafts/a.yaml'] ?? '').includes('nmae'));
    await client.change('swaplore.yaml', [{ text: 'swaplore: 1\nignore: [drafts/]\n' }]);
    await client.untilFound('drafts/a.yaml', []);
  });
});
