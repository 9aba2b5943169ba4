import { chmodSync, mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import type { DriveSystem } from '../../server/src/host/disk/drive-system.ts';
import { folderOf } from './run-cli.ts';

type Content = string | Uint8Array;

/** A drive as sysfs shows it. */
export interface FakeDrive {
  readonly name: string;
  /** The buses on the way to it, such as `pci0000:00/ata1/host0/target0:0:0/0:0:0:0`; none for what the kernel makes itself. */
  readonly way?: string;
  /** Files below the drive's own folder. */
  readonly files: Readonly<Record<string, Content>>;
  readonly partitions?: readonly string[];
}

/** What else is in a system besides its drives. */
export interface FakeSurroundings {
  /** Shell scripts by the names of the programs they stand for. */
  readonly programs?: Readonly<Record<string, string>>;
  readonly mountinfo?: string;
  /** Devices of which udev keeps a record, by number. */
  readonly udev?: readonly string[];
  /** Links below /dev, and what they lead to. */
  readonly links?: Readonly<Record<string, string>>;
}

/** A file tree that looks like that of a Linux with these drives, and programs that look like those it has. */
export function fakeSystem(drives: readonly FakeDrive[], surroundings: FakeSurroundings = {}): DriveSystem {
  const { programs = {}, mountinfo = '', udev = [], links = {} } = surroundings;
  const root = folderOf({ 'proc/self/mountinfo': mountinfo, 'dev/.keep': '', 'sys/block/.keep': '' });
  for (const drive of drives) addDrive(root, drive);
  for (const number of udev) put(root, `run/udev/data/b${number}`, 'E:ID_BUS=ata\n');
  for (const [path, target] of Object.entries(links)) {
    mkdirSync(dirname(join(root, 'dev', path)), { recursive: true });
    symlinkSync(target, join(root, 'dev', path));
  }
  for (const [name, script] of Object.entries(programs)) {
    put(root, `usr/bin/${name}`, `#!/bin/sh\n${script}\n`);
    chmodSync(join(root, 'usr/bin', name), 0o755);
  }
  return { root, path: join(root, 'usr/bin'), isRoot: true, patienceMs: 20_000 };
}

function addDrive(root: string, { name, way, files, partitions = [] }: FakeDrive): void {
  const own = `sys/devices/${way === undefined ? 'virtual' : way}/block/${name}`;
  for (const [path, content] of Object.entries(files)) {
    put(
      root,
      path.startsWith('device/') ? `sys/devices/${way}/${path.slice('device/'.length)}` : `${own}/${path}`,
      content,
    );
  }
  mkdirSync(join(root, own), { recursive: true });
  if (way !== undefined) symlinkSync('../..', join(root, own, 'device'));
  for (const folder of ['sys/block', 'sys/class/block']) link(root, `${folder}/${name}`, own);
  for (const [position, partition] of partitions.entries()) {
    put(root, `${own}/${partition}/partition`, `${position + 1}\n`);
    put(root, `${own}/${partition}/dev`, `8:${position + 1}\n`);
    link(root, `sys/class/block/${partition}`, `${own}/${partition}`);
  }
}

function put(root: string, path: string, content: Content): void {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), content);
}

function link(root: string, path: string, target: string): void {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  symlinkSync(relative(dirname(path), target), join(root, path));
}
