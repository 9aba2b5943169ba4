import { createHmac } from 'node:crypto';
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findSerialKey } from '../../server/src/host/disk/find-serial-key.ts';
import { serialDigest } from '../../server/src/host/serial-digest.ts';
import { folderOf } from '../harness/run-cli.ts';

describe('a digest of a serial number', () => {
  // Source: RFC 4231, sections 4.2, 4.3, 4.6 (a digest cut to 128 bits) and 4.7.
  it.each([
    ['test case 1', new Uint8Array(20).fill(0x0b), 'Hi There', 'b0344c61d8db38535ca8afceaf0bf12b'],
    [
      'test case 2',
      new TextEncoder().encode('Jefe'),
      'what do ya want for nothing?',
      '5bdcc146bf60754e6a042426089575c7',
    ],
    ['test case 5', new Uint8Array(20).fill(0x0c), 'Test With Truncation', 'a3b6167473100ee06e0c796c2955552b'],
    [
      'test case 6',
      new Uint8Array(131).fill(0xaa),
      'Test Using Larger Than Block-Size Key - Hash Key First',
      '60e431591ee0b67f0d8a26aacbf5b77f',
    ],
  ])('is what RFC 4231 gives in %s', (_name, key, text, digits) => {
    expect(serialDigest(text, key)).toBe(`digest:${digits}`);
  });

  it('does not depend on spaces around the number, and does on its case and on the key', () => {
    const key = new Uint8Array(32).fill(1);
    const digest = serialDigest('WQ4F2K', key);
    expect(serialDigest('   WQ4F2K ', key)).toBe(digest);
    expect(serialDigest('wq4f2k', key)).not.toBe(digest);
    expect(serialDigest('WQ4F2K', new Uint8Array(32).fill(2))).not.toBe(digest);
    // Source: the implementation that Node brings.
    expect(digest).toBe(`digest:${createHmac('sha256', key).update('WQ4F2K').digest('hex').slice(0, 32)}`);
  });
});

describe('the key', () => {
  const long = 'k'.repeat(32);

  it('is what SWAPLORE_KEY says, without white space around it', () => {
    expect(findSerialKey({ SWAPLORE_KEY: ` ${long}\n` }, 'linux')).toEqual({ key: new TextEncoder().encode(long) });
  });

  it.each([
    ['linux', 'XDG_CONFIG_HOME'],
    ['win32', 'APPDATA'],
  ] as const)('is read from the folder for settings on %s', (platform, variable) => {
    const folder = folderOf({ 'swaplore/key': `${long}\n` });
    expect(findSerialKey({ [variable]: folder }, platform)).toEqual({ key: new TextEncoder().encode(long) });
  });

  it.each(['.git/HEAD', 'swaplore.yaml'])('is not read below a folder that holds %s', (path) => {
    const folder = folderOf({ 'config/swaplore/key': long, [path]: '' });
    expect(findSerialKey({ XDG_CONFIG_HOME: join(folder, 'config') }, 'linux')).toMatchObject({
      reason: 'SWAPLORE_KEY is not set, and no folder for settings lies outside of bases and git repositories.',
    });
  });

  it('is not read through a link that leads into a base', () => {
    const folder = folderOf({ 'base/swaplore.yaml': 'swaplore: 1\n', 'base/key': long });
    mkdirSync(join(folder, 'config/swaplore'), { recursive: true });
    symlinkSync(join(folder, 'base/key'), join(folder, 'config/swaplore/key'));
    const found = findSerialKey({ XDG_CONFIG_HOME: join(folder, 'config') }, 'linux');
    expect(found).toMatchObject({
      reason: `The key ${join(folder, 'config/swaplore/key')} lies in a base or a git repository.`,
    });
  });

  it('is refused where it is short', () => {
    const folder = folderOf({ 'swaplore/key': 'swordfish\n' });
    const short = 'bytes long, but at least 32 are needed.';
    expect(findSerialKey({ SWAPLORE_KEY: 'k'.repeat(31) }, 'linux')).toMatchObject({
      reason: `The key in SWAPLORE_KEY is 31 ${short}`,
    });
    expect(findSerialKey({ XDG_CONFIG_HOME: folder }, 'linux')).toMatchObject({
      reason: `The key in ${join(folder, 'swaplore/key')} is 9 ${short}`,
    });
  });

  it('says where it was looked for', () => {
    const folder = folderOf({});
    const env = { XDG_CONFIG_HOME: folder, SWAPLORE_KEY: '' };
    expect(findSerialKey(env, 'linux')).toMatchObject({
      reason: `SWAPLORE_KEY is not set, and there is no file ${join(folder, 'swaplore/key')}.`,
    });
    mkdirSync(join(folder, 'swaplore'));
    writeFileSync(join(folder, 'swaplore/other'), '');
    mkdirSync(join(folder, 'swaplore/key'));
    expect(findSerialKey(env, 'linux')).toMatchObject({
      reason: `The key ${join(folder, 'swaplore/key')} cannot be read: it is a folder.`,
    });
  });
});
