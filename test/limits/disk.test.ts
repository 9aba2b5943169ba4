import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { demoTexts } from '../harness/demo-base.ts';
import { folderOf, runCommand } from '../harness/run-cli.ts';

/** Mounts a file system in memory on a folder. */
function mount(folder: string, options: string): boolean {
  return spawnSync('/usr/bin/mount', ['-t', 'tmpfs', '-o', options, 'none', folder]).status === 0;
}

function unmount(folder: string): void {
  spawnSync('/usr/bin/umount', ['-l', folder]);
}

/** A folder on a file system of its own, until the test is over. */
function mounted(options: string): string {
  const folder = folderOf({});
  expect(mount(folder, options)).toBe(true);
  onTestFinished(() => unmount(folder));
  return folder;
}

/** Whether file systems may be mounted here: root may, unless it is kept from it. */
function mayMount(): boolean {
  const folder = mkdtempSync(join(tmpdir(), 'swaplore-mount-'));
  const may = mount(folder, 'size=64k');
  if (may) unmount(folder);
  return may;
}

/** Commands that write. */
const writers: readonly (readonly string[])[] = [
  ['init', 'new'],
  ['report', '--folder', 'base', '--out', 'pages'],
  ['record', 'drive', '--folder', 'base', '--from', 'base/answers.json'],
  ['export', '--folder', 'base', '--to', 'csv', '--out', 'tables'],
];

const files = {
  'swaplore.yaml': 'swaplore: 1\n',
  'tern.yaml': 'kind: maker\nid: wren\nname: Wren\n---\nkind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
  'answers.json': '{ "family": "tern-2" }',
};

function fill(folder: string): void {
  spawnSync('mkdir', [join(folder, 'base')]);
  for (const [path, text] of Object.entries(files)) writeFileSync(join(folder, 'base', path), text);
}

describe.runIf(mayMount())('where nothing can be written, commands say so and leave nothing half done', () => {
  it.each(writers)('a full disk: %s', (...args) => {
    const folder = mounted('size=64k');
    fill(folder);
    spawnSync('dd', ['if=/dev/zero', `of=${join(folder, 'ballast')}`, 'bs=4k']);
    const { code, stderr } = runCommand(folder, args);
    expect({ code, stderr }).toEqual({ code: 2, stderr: expect.stringContaining('no space is left on the disk') });
    const left = readdirSync(folder, { recursive: true }).map(String);
    expect(left.filter((path) => path.endsWith('.tmp'))).toEqual([]);
  });

  it.each(writers)('a disk that is read only: %s', (...args) => {
    const folder = mounted('size=1m');
    fill(folder);
    spawnSync('/usr/bin/mount', ['-o', 'remount,ro', folder]);
    const { code, stderr } = runCommand(folder, args);
    expect({ code, stderr }).toEqual({ code: 2, stderr: expect.stringContaining('the disk can only be read') });
  });
});

it.runIf(existsSync('/proc/self'))('a folder that takes no other ends a command', () => {
  const { code, stderr } = runCommand(folderOf({}), ['init', '/proc/none/new']);
  expect({ code, stderr }).toEqual({ code: 2, stderr: expect.stringContaining('cannot be written: nothing is there') });
});

it.each(['1970-01-01', '2000-02-29', '9999-12-31'])('nothing is an error because today is %s', (today) => {
  const folder = folderOf(demoTexts());
  const errors = (...more: string[]) => {
    const { stdout } = runCommand(folder, ['lint', '--format', 'json', '--no-cache', ...more]);
    const { findings } = JSON.parse(stdout) as { findings: { severity: string; message: string }[] };
    return findings.filter(({ severity }) => severity === 'error').map(({ message }) => message);
  };
  expect(errors('--today', today)).toEqual(errors());
});
