import { resolve } from 'node:path';
import type { SerialPolicy } from '../core/captures/mask-serials.ts';
import { DiskHost } from '../host/disk/disk-host.ts';
import { findBaseAbove } from '../host/disk/find-bases.ts';
import { loadConfig } from '../host/load-base.ts';
import { serialDigest } from '../host/serial-digest.ts';
import type { Arguments, Option, Program } from './command.ts';
import { UsageError } from './exit-codes.ts';
import { noBase } from './open-base.ts';
import type { Terminal } from './terminal.ts';

/** The option of every command that shows or writes serial numbers. */
export const serialsOption: Option = {
  name: 'serials',
  value: 'HOW',
  describe:
    'How serial numbers are written: masked, full (not in a base that masks them), or digest, with the key of SWAPLORE_KEY (default: as the base says; outside of bases masked).',
};

/** What the base that `--folder` names, else the one around the working folder, says of serial numbers; undefined outside of bases. */
export async function serialsOfBase(
  { values: { folder } }: Arguments,
  terminal: Terminal,
): Promise<'masked' | 'full' | undefined> {
  const start = resolve(terminal.cwd, typeof folder === 'string' ? folder : '.');
  const root = await findBaseAbove(start);
  if (root !== undefined) return (await loadConfig(new DiskHost(root))).reading.config.serials;
  if (typeof folder === 'string') throw noBase(start, terminal);
  return undefined;
}

/** How serial numbers are written. `inBase` is what the base says, undefined outside of bases; `otherwise` what a usage error adds. */
export function readSerials(
  { values }: Arguments,
  { findSerialKey }: Program,
  { inBase, otherwise }: { readonly inBase: 'masked' | 'full' | undefined; readonly otherwise: string },
): SerialPolicy {
  const { serials = inBase ?? 'masked' } = values;
  switch (serials) {
    case 'masked':
      return 'masked';
    case 'full':
      if (inBase !== 'masked') return 'full';
      throw new UsageError('The base masks serial numbers, so none can be written in full.', otherwise);
    case 'digest': {
      const found = findSerialKey?.();
      if (!found) throw new UsageError('There is no key for digests here.', otherwise);
      if ('reason' in found) throw new UsageError(found.reason, found.help);
      return { digestOf: (serial) => serialDigest(serial, found.key) };
    }
    default:
      throw new UsageError(`--serials cannot be ${String(serials)}.`, 'Name one of masked, full, digest.');
  }
}
