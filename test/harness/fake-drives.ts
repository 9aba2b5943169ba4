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

/** Page 80h with this serial number. */
export function page80(serial: string): Uint8Array {
  const bytes = new TextEncoder().encode(serial);
  return Uint8Array.of(0, 0x80, 0, bytes.length, ...bytes);
}

/** Page 83h with this world-wide name of the drive, 16 digits. */
export function page83(wwn: string): Uint8Array {
  const bytes = (wwn.match(/../g) ?? []).map((digits) => Number.parseInt(digits, 16));
  return Uint8Array.of(0, 0x83, 0, bytes.length + 4, 0x01, 0x03, 0, bytes.length, ...bytes);
}

/** Page 89h around the answer to IDENTIFY DEVICE. Source: SAT-4 (T10), ATA Information VPD page. */
export function page89(identify: Uint8Array): Uint8Array {
  const page = new Uint8Array(572);
  page.set([0, 0x89, 0x02, 0x38]);
  page.set(new TextEncoder().encode('LINUX   libata          3.00'), 8);
  page[56] = 0xec;
  page.set(identify, 60);
  return page;
}

/** What an ATA drive answers to IDENTIFY DEVICE, as far as it matters here. Source: ATA8-ACS (T13), IDENTIFY DEVICE data. */
export function identifyOf({
  serial,
  model,
  firmware,
  sectors,
  wwn,
}: Readonly<Record<'serial' | 'model' | 'firmware' | 'wwn', string>> & { readonly sectors: number }): Uint8Array {
  const words = new Uint16Array(256);
  const text = (at: number, length: number, content: string): void => {
    const padded = content.padEnd(length * 2);
    for (let word = 0; word < length; word++) {
      words[at + word] = padded.charCodeAt(word * 2) * 256 + padded.charCodeAt(word * 2 + 1);
    }
  };
  words[0] = 0x0040;
  text(10, 10, serial.padStart(20));
  text(23, 4, firmware);
  text(27, 20, model);
  words[49] = 0x0f00;
  words.set([Math.min(sectors, 0x0fffffff) & 0xffff, Math.min(sectors, 0x0fffffff) >>> 16], 60);
  words.set([0x7469, 0x7509, 0x4163, 0x7469, 0x3409, 0x4163], 82);
  words.set([sectors & 0xffff, (sectors / 0x10000) & 0xffff], 100);
  words[106] = 0x6003;
  words.set(
    (wwn.match(/..../g) ?? []).map((digits) => Number.parseInt(digits, 16)),
    108,
  );
  words[217] = 7200;
  words[222] = 0x107f;
  const bytes = new Uint8Array(words.buffer);
  bytes[510] = 0xa5;
  bytes[511] = 256 - (bytes.subarray(0, 511).reduce((sum, byte) => sum + byte, 0) % 256);
  return bytes;
}
