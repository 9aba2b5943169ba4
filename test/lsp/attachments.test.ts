import { createHash } from 'node:crypto';
import { expect, it } from 'vitest';
import { FileChangeType } from 'vscode-languageserver/node';
import { connectInMemory, overEveryConnection } from './harness/connections.ts';

const base = {
  'makers.yaml': 'kind: maker\nid: harbour\nname: Harbour\n',
  'families.yaml': 'kind: family\nid: tern-2\nname: Tern 2\nmaker: harbour\nadaptives: {stored_in: platters}\n',
};
const sum = (text: string) => createHash('sha256').update(text).digest('hex');
const drive = (more: string) => `kind: drive\nid: d-1\nfamily: tern-2\n${more}`;
const rom = drive(`rom_image: {file: roms/a.bin, sha256: ${sum('first')}}\n`);

overEveryConnection((connect) => {
  it('follows a file that a closed record names as it comes, changes and goes', async () => {
    const client = await connect({ ...base, 'drives/d.yaml': rom });
    await client.untilFound('drives/d.yaml', ['capture-missing']);
    await client.save('drives/roms/a.bin', 'first');
    await client.untilFound('drives/d.yaml', []);
    await client.save('drives/roms/a.bin', 'second');
    await client.untilFound('drives/d.yaml', ['capture-changed']);
    await client.save('drives/roms/a.bin', 'first');
    await client.untilFound('drives/d.yaml', []);
    await client.save('drives/roms/a.bin', undefined);
    await client.untilFound('drives/d.yaml', ['capture-missing']);
  });

  it('looks at what is typed, and lets go of what is named no more', async () => {
    const client = await connect({ ...base, 'drives/d.yaml': drive(''), 'photos/a.jpg': 'a picture' });
    await client.open('drives/d.yaml', drive('photos: [{file: ../photos/b.jpg}]\n'));
    await client.untilFound('drives/d.yaml', ['capture-missing']);
    await client.change('drives/d.yaml', [{ text: drive('photos: [{file: ../photos/a.jpg}]\n') }]);
    await client.untilFound('drives/d.yaml', []);
    await client.change('drives/d.yaml', [{ text: drive('photos: [{file: ../../a.jpg}]\n') }]);
    await client.untilFound('drives/d.yaml', ['capture-missing']);
    await client.close('drives/d.yaml');
    await client.untilFound('drives/d.yaml', []);
  });

  it('notices a folder of such files that goes or comes as a whole', async () => {
    const client = await connect({ ...base, 'drives/d.yaml': rom, 'drives/roms/a.bin': 'first' });
    await client.open('makers.yaml', `${base['makers.yaml']}nmae: 1\n`);
    await client.untilFound('makers.yaml', ['unknown-key']);
    expect(client.diagnostics).not.toHaveProperty(['drives/d.yaml']);
    client.write('drives/roms/a.bin', undefined);
    await client.tellOf('drives/roms');
    await client.untilFound('drives/d.yaml', ['capture-missing']);
    client.write('drives/roms/a.bin', 'first');
    await client.tellOf('drives/roms', FileChangeType.Created);
    await client.untilFound('drives/d.yaml', []);
  });
});

it('asks a client that lends files for no picture, and for nothing it has seen already', async () => {
  const files = {
    ...base,
    'drives/d.yaml': `${rom}photos: [{file: a.jpg}]\n`,
    'drives/roms/a.bin': 'first',
    'drives/a.jpg': '',
  };
  const client = await connectInMemory(files);
  await client.open('drives/d.yaml', `${files['drives/d.yaml']}nmae: 1\n`);
  await client.untilFound('drives/d.yaml', ['unknown-key']);
  await client.change('drives/d.yaml', [{ text: `${files['drives/d.yaml']}nmae: 1\nnmea: 2\n` }]);
  await client.untilFound('drives/d.yaml', ['unknown-key', 'unknown-key']);
  const read = client.asked.filter((address) => !/\.yaml$|\/$/.test(address));
  expect(read).toEqual([client.uriOf('drives/roms/a.bin')]);
});
