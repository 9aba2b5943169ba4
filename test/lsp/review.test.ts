import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { ErrorCodes } from 'vscode-languageserver/node';
import { branchesRequest, reviewRequest } from '../../server/src/lsp/protocol.ts';
import { git } from '../harness/git-repository.ts';
import { named, readPage } from '../harness/read-page.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';
import { overEveryConnection } from './harness/connections.ts';

const nonce = 'abcdefghijklmnop0123';

const broken = { ...ternBench, 'outcomes/left.yaml': outcome('left', 'left') };

function firstOf(html: string): string | undefined {
  return named(readPage(html), 'p').map(({ text }) => text)[1];
}

overEveryConnection((connect) => {
  it('reviews a base against a folder that holds it as it was, with what is typed and not saved', async () => {
    const before = Object.entries(ternBench).map(([path, text]) => [`was/${path}`, text]);
    const client = await connect({ ...broken, ...Object.fromEntries(before) });
    const uri = client.uriOf('swaplore.yaml');
    const against = { folder: client.uriOf('was') };
    const { title, html, places } = await client.ask(reviewRequest, { against, uri, nonce });
    expect(title).toBe('Harbour Street bench: review against was');
    expect(firstOf(html)).toBe(
      'The change adds 1 outcome. Rule tern-rom-travels is broken now. The odds of tern-2 differ.',
    );
    expect(places.map((place) => place.uri)).toContain(client.uriOf('outcomes/left.yaml'));
    await client.open('outcomes/left.yaml');
    await client.change('outcomes/left.yaml', [{ text: outcome('left', 'chip_moved') }]);
    const mended = await client.ask(reviewRequest, { against, uri, nonce });
    expect(firstOf(mended.html)).toBe(
      'The change adds 1 outcome. Rule tern-rom-travels gains support. The odds of tern-2 differ.',
    );
    const empty = client.ask(reviewRequest, { against: { folder: client.uriOf('drives') }, uri, nonce });
    await expect(empty).rejects.toMatchObject({
      code: ErrorCodes.InvalidParams,
      message: '`drives` holds no `swaplore.yaml` that can be used, so there is no base to compare with.',
    });
  });

  it('reviews a base against a branch where its history can be read, and says why where it cannot', async () => {
    const client = await connect(broken);
    const { names, reason } = await client.ask(branchesRequest, {});
    expect(names).toEqual([]);
    expect(reason).toMatch(/cannot be read here|lies in no git repository/);
    const root = client.uriOf('swaplore.yaml').replace('/swaplore.yaml', '');
    if (root.startsWith('file:')) {
      const folder = fileURLToPath(root);
      const commit = [
        '-c',
        'user.name=Bench',
        '-c',
        'user.email=bench@example.org',
        'commit',
        '--quiet',
        '-m',
        'Begin',
      ];
      git(folder, 'init', '--quiet', '--initial-branch=main');
      git(folder, 'add', '--', ...Object.keys(ternBench));
      git(folder, ...commit);
      expect(await client.ask(branchesRequest, {})).toEqual({ names: ['main'] });
      const { title, html } = await client.ask(reviewRequest, { against: { revision: 'main' }, nonce });
      expect(title).toBe('Harbour Street bench: review against main');
      expect(firstOf(html)).toBe(
        'The change adds 1 outcome. Rule tern-rom-travels is broken now. The odds of tern-2 differ.',
      );
    }
    const missing = client.ask(reviewRequest, { against: { revision: 'nowhere' }, nonce });
    await expect(missing).rejects.toMatchObject({ code: ErrorCodes.InvalidParams });
  });
});
