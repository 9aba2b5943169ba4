import { existsSync, lstatSync, readdirSync, readFileSync, readlinkSync, realpathSync, type Stats } from 'node:fs';
import { basename, dirname, isAbsolute, join, resolve } from 'node:path';

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
  const type = typeOf(entry);
  return type === undefined || blockTypes.includes(type)
    ? { name }
    : none(root, `${shown} is no hard drive, but a SCSI device of type ${type}.`);
}

/** The mount points at which file systems of a drive can be written to, be it by way of devices made out of it. */
export function writableMounts(root: string, name: string): readonly string[] {
  const devices = new Map(devicesOn(root, name).map((device) => [numberOf(root, device), device]));
  const nodes = new Set(Array.from(devices.values(), (device) => `/dev/${device}`));
  // Source: Linux, proc_pid_mountinfo(5).
  return linesOf(join(root, 'proc/self/mountinfo')).flatMap((line) => {
    const [, , number = '', , point = '', ...rest] = line.split(' ');
    const [, source = '', options = ''] = rest.slice(rest.indexOf('-') + 1);
    const isOfDrive = devices.has(number) || nodes.has(source);
    return isOfDrive && options.split(',').includes('rw') ? [unescaped(point)] : [];
  });
}

/** Whether udev keeps a record of a drive, which programs go by that would read the drive otherwise. */
export function isKnownToUdev(root: string, name: string): boolean {
  return existsSync(join(root, 'run/udev/data', `b${numberOf(root, name)}`));
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
  const drives = namesIn(join(root, 'sys/block')).filter((name) => {
    const type = typeOf(join(root, 'sys/block', name));
    return type !== undefined && blockTypes.includes(type);
  });
  const known =
    drives.length > 0 ? `Drives that the kernel knows: ${drives.join(', ')}.` : 'The kernel knows no drive.';
  return { reason, help: `A drive is named as in sda or /dev/sda. ${known}` };
}

function typeOf(entry: string): string | undefined {
  return linesOf(join(entry, 'device/type'))[0];
}

/** A drive, its partitions, and whatever the kernel makes out of these. */
function devicesOn(root: string, name: string): string[] {
  const entry = join(root, 'sys/class/block', name);
  const partitions = namesIn(entry).filter((inside) => existsSync(join(entry, inside, 'partition')));
  const holders = namesIn(join(entry, 'holders'));
  return [name, ...[...partitions, ...holders].flatMap((inside) => devicesOn(root, inside))];
}

function numberOf(root: string, name: string): string {
  return linesOf(join(root, 'sys/class/block', name, 'dev'))[0] ?? '';
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder).sort();
  } catch {
    return [];
  }
}

function linesOf(path: string): string[] {
  try {
    return readFileSync(path, 'utf8')
      .split('\n')
      .filter((line) => line !== '');
  } catch {
    return [];
  }
}

/** Mount points have spaces and the like written as octal numbers. */
function unescaped(point: string): string {
  return point.replace(/\\([0-7]{3})/g, (_, digits: string) => String.fromCharCode(Number.parseInt(digits, 8)));
}
