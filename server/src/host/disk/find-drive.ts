import { existsSync, lstatSync, readlinkSync, realpathSync, type Stats } from 'node:fs';
import { basename, dirname, isAbsolute, join, resolve } from 'node:path';
import { linesIn, namesIn } from './kernel-files.ts';

/** A whole drive, by the name the kernel gives it, such as `sda`. */
export interface FoundDrive {
  readonly name: string;
}

/** Why a device is none that can be captured: a sentence, and what to do. */
export interface NoDrive {
  readonly reason: string;
  readonly help: string;
}

/** SCSI types of drives that are addressed by blocks: direct access and zoned. Source: SPC-4 (T10), peripheral device types. */
const blockTypes = ['0', '20'];

/** Links that may lead from one to the next. Source: Linux, path_resolution(7), gives up after 40. */
const mostLinks = 40;

/**
 * The whole drive that a name such as `sda`, `/dev/sda` or `/dev/disk/by-id/…` stands for, in a system whose file tree begins at `root`.
 * Nothing but links and sysfs is read; the device itself is not opened.
 */
export function findDrive(root: string, typed: string): FoundDrive | NoDrive {
  if (typed.split('/').includes('..')) return none(root, `${typed} leads upwards.`);
  const name = typed.includes('/') ? nameBelowDev(root, typed) : typed;
  if (name === undefined || !/^[a-z][a-z0-9_!-]*$/i.test(name))
    return none(root, `${typed === '' ? 'An empty name' : typed} is no device below /dev.`);
  const node = entryAt(join(root, 'dev', name));
  if (node && !node.isBlockDevice()) return none(root, `${typed} is no block device.`);
  const entry = join(root, 'sys/class/block', name);
  if (!existsSync(entry)) return none(root, `${typed} is no block device that the kernel knows.`);
  const shown = name === typed ? name : `${typed} (${name})`;
  if (existsSync(join(entry, 'partition'))) {
    const whole = basename(dirname(realpathSync(entry)));
    return { reason: `${shown} is a partition of ${whole}.`, help: `Name the whole drive: ${whole}.` };
  }
  if (!existsSync(join(entry, 'device'))) {
    return none(root, `${shown} is no drive: the kernel makes it out of files or of other devices.`);
  }
  return isDrive(entry)
    ? { name }
    : none(root, `${shown} is no hard drive, but a SCSI device of type ${typeOf(entry)}.`);
}

/** The name of a node below /dev that a path leads to by links; undefined where it leads elsewhere. */
function nameBelowDev(root: string, typed: string): string | undefined {
  const dev = join(root, 'dev');
  if (!isAbsolute(typed)) return undefined;
  let path = join(root, typed);
  for (let links = 0; links < mostLinks && entryAt(path)?.isSymbolicLink(); links++) {
    const target = readlinkSync(path);
    path = isAbsolute(target) ? join(root, target) : resolve(dirname(path), target);
  }
  return dirname(path) === dev ? basename(path) : undefined;
}

function entryAt(path: string): Stats | undefined {
  try {
    return lstatSync(path);
  } catch {
    return undefined;
  }
}

function none(root: string, reason: string): NoDrive {
  const drives = namesIn(join(root, 'sys/block')).filter((name) => isDrive(join(root, 'sys/block', name)));
  const known =
    drives.length > 0 ? `Drives that the kernel knows: ${drives.join(', ')}.` : 'The kernel knows no drive.';
  return { reason, help: `A drive is named as in sda or /dev/sda. ${known}` };
}

/** Whether something in sysfs is a device of its own, and none that SCSI calls another kind. */
function isDrive(entry: string): boolean {
  const type = typeOf(entry);
  return existsSync(join(entry, 'device')) && (type === undefined || blockTypes.includes(type));
}

function typeOf(entry: string): string | undefined {
  return linesIn(join(entry, 'device/type'))[0];
}
