import type { Interface } from '../../../../schemas/gen/records.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { byteSize } from '../text/byte-size.ts';
import { inThousands } from '../text/in-thousands.ts';
import { plural } from '../text/plural.ts';
import { interfaceOf, pairOf } from '../verdicts/drive-context.ts';
import { isBeyondCapacity, type VerifyRow, verifyRowsOf } from '../verdicts/verify-rows.ts';
import { defineCheck } from './define-check.ts';
import { exampleFamily, exampleOutcome, examplePair } from './example-base.ts';

const sata = { ...examplePair, ...exampleFamily('interface: sata\nadaptives: {stored_in: platters}\n') };

/** A verification faster than the interface. */
export const verifyTooFast = defineCheck({
  check: 'verify-too-fast',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  kinds: ['outcome'],
  why: 'What comes faster than the cable can carry it did not come from the drive but from a cache, or the bytes are those of several drives. Either way less of this one was checked than the record says.',
  examples: () => [
    {
      title: 'A terabyte in five minutes',
      files: {
        ...sata,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
verify:
  - {method: hash_compare, bytes: 1000204886016, errors: 0, minutes: 5}
#                                                                    ^ verify-too-fast: \`verify\` went over 1.0002 TB in 5 minutes, which takes 3,030 MB/s, but \`sata\` carries at most 600 MB/s.
reached: reads
result: works
`,
      },
    },
    {
      title: 'Minutes may have been rounded: 50 GB in 1 minute may have taken one and a half',
      files: {
        ...sata,
        'outcomes/one.yaml': exampleOutcome(
          'verify: [{method: hash_compare, bytes: 50000000000, errors: 0, minutes: 1}]\n',
        ),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome' || !record.data.verify) return;
    const pair = pairOf(record, snapshot);
    // The fitted board speaks to the host.
    const port = interfaceOf(pair.donor) ?? interfaceOf(pair.patient);
    const limit = port && fastest[port];
    if (limit === undefined) return;
    for (const verify of verifyRowsOf(record, pair)) {
      const least = leastRate(verify);
      if (least === undefined || least <= limit || isBeyondCapacity(verify)) continue;
      const { bytes = 0, minutes = 0 } = verify.row;
      yield {
        at: { record, path: ['verify', verify.position, 'minutes'], side: 'value' },
        message: `\`verify\` went over ${byteSize(bytes)} in ${plural(minutes, 'minute')}, which takes ${inThousands(Math.floor(least))} MB/s, but \`${port}\` carries at most ${inThousands(limit)} MB/s.`,
      };
    }
  },
});

/**
 * Most that an interface carries, in MB/s of 10⁶ bytes; those that are missing have no one limit.
 * Source: Serial ATA at 6 Gb/s, ATA/ATAPI-7 Ultra DMA mode 6, SAS-3 at 12 Gb/s, line code deducted (from memory).
 */
const fastest: Partial<Record<Interface, number>> = { pata: 133, sata: 600, sas: 1200 };

/** The rate in MB/s that a row needs at least, its minutes taken as rounded to their last digit; undefined where it says too little. */
function leastRate({ row: { bytes, minutes } }: VerifyRow): number | undefined {
  if (bytes === undefined || minutes === undefined) return undefined;
  const [, decimals = ''] = String(minutes).split('.');
  const longest = minutes + 0.5 / 10 ** decimals.length;
  return bytes / 1e6 / (longest * 60);
}
