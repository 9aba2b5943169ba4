import type { SerialPolicy } from '../core/captures/mask-serials.ts';
import { serialDigest } from '../host/serial-digest.ts';
import type { Arguments, Option, Program } from './command.ts';
import { UsageError } from './exit-codes.ts';

/** The option of every command that shows or writes serial numbers. */
export const serialsOption: Option = {
  name: 'serials',
  value: 'HOW',
  describe:
    'How serial numbers are written: masked, full (not in a base that masks them), or digest, with the key of SWAPLORE_KEY (default: as the base says; outside of bases masked).',
};

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
