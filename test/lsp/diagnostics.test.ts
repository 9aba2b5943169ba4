import { expect, it } from 'vitest';
import { overEveryConnection } from './harness/connections.ts';

const maker = 'kind: maker\nid: harbour\nname: Harbour\n';
const family = 'kind: family\nid: tern-2\nname: Tern 2\nmaker: harbour\n';

overEveryConnection((connect) => {
  it('shows at once what can be said of an open file', async () => {
    const client = await connect({ 'makers.yaml': maker });
    await client.open('makers.yaml', `${maker}nmae: H\n`);
    const [found] = await client.untilFound('makers.yaml', ['unknown-key']);
    expect(found).toMatchObject({
      range: { start: { line: 3, character: 0 }, end: { line: 3, character: 4 } },
      source: 'swaplore',
    });
  });

  it('shows what is found in files nobody has opened', async () => {
    const client = await connect({ 'families.yaml': family });
    await client.untilFound('families.yaml', ['dangling-reference']);
    await client.save('makers.yaml', maker);
    await client.untilFound('families.yaml', []);
    await client.save('makers.yaml', undefined);
    await client.untilFound('families.yaml', ['dangling-reference']);
  });

  it('shows what values hold that nobody would see', async () => {
    const client = await connect({ 'makers.yaml': `${maker}"na\\u202eme": H\n` });
    const [found] = await client.untilFound('makers.yaml', ['unknown-key']);
    expect(found?.message).toContain('`na\\u202eme`');
  });

  it('takes an open text for the file until it is closed', async () => {
    const client = await connect({ 'families.yaml': family, 'makers.yaml': maker });
    await client.open('makers.yaml', maker.replace('id: harbour', 'id: haven'));
    await client.untilFound('families.yaml', ['dangling-reference']);
    await client.close('makers.yaml');
    await client.untilFound('families.yaml', []);
  });
});
