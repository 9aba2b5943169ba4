import { expect, it } from 'vitest';
import { overEveryConnection } from './harness/connections.ts';

const config = 'swaplore: 1\nname: Tern shelf\n';
const maker = 'kind: maker\nid: harbour\nname: Harbour\n';
const family = 'kind: family\nid: tern-2\nname: Tern 2\nmaker: harbour\n';

overEveryConnection((connect) => {
  it('tells how a base stands: being read, checked with so many findings, gone', async () => {
    const client = await connect(
      { 'swaplore.yaml': config, 'maker.yaml': maker.replace('harbour', 'haven'), 'family.yaml': family },
      { initializationOptions: { baseStates: true } },
    );
    const last = () => client.baseStates.at(-1);
    const about = { root: client.uriOf('').replace(/\/$/, ''), name: 'Tern shelf' };
    await client.until(() => last()?.state === 'checked');
    expect(client.baseStates[0]).toEqual({ ...about, state: 'reading' });
    expect(last()).toEqual({ ...about, state: 'checked', errors: 1, warnings: 0 });
    await client.save('maker.yaml', maker);
    await client.until(() => client.baseStates.filter(({ state }) => state === 'checked').length > 1);
    expect(last()).toEqual({ ...about, state: 'checked', errors: 0, warnings: 0 });
    await client.save('swaplore.yaml', undefined);
    await client.until(() => last()?.state === 'gone');
  });

  it('tells nothing of it to clients that did not ask for it', async () => {
    const client = await connect({ 'family.yaml': family });
    await client.untilFound('family.yaml', ['dangling-reference']);
    expect(client.baseStates).toEqual([]);
  });
});
