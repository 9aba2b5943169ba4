import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { linesIn, namesIn } from './kernel-files.ts';

/** The mount points at which file systems of a drive can be written to, be it by way of devices made out of it. */
export function writableMounts(root: string, drive: string): readonly string[] {
  const entries = join(root, 'sys/class/block');
  const devices = devicesOn(entries, drive);
  const numbers = new Set(devices.flatMap((device) => linesIn(join(entries, device, 'dev'))));
  const nodes = new Set(devices.map((device) => `/dev/${device}`));
  // Source: Linux, proc_pid_mountinfo(5).
  return linesIn(join(root, 'proc/self/mountinfo')).flatMap((line) => {
    const [, , number = '', , point = '', ...rest] = line.split(' ');
    const [, source = '', options = ''] = rest.slice(rest.indexOf('-') + 1);
    const isOfDrive = numbers.has(number) || nodes.has(source);
    return isOfDrive && options.split(',').includes('rw') ? [unescaped(point)] : [];
  });
}

/** A drive, its partitions, and whatever the kernel makes out of these. */
function devicesOn(entries: string, device: string): readonly string[] {
  const entry = join(entries, device);
  const partitions = namesIn(entry).filter((inside) => existsSync(join(entry, inside, 'partition')));
  const holders = namesIn(join(entry, 'holders'));
  return [device, ...[...partitions, ...holders].flatMap((inside) => devicesOn(entries, inside))];
}

/** Mount points have spaces and the like written as octal numbers. */
function unescaped(point: string): string {
  return point.replace(/\\([0-7]{3})/g, (_, digits: string) => String.fromCharCode(Number.parseInt(digits, 8)));
}
