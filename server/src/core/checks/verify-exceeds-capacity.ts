import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { exactBytes } from '../terms/capacity.ts';
import { byteSize } from '../text/byte-size.ts';
import { inThousands } from '../text/in-thousands.ts';
import { capacityFactsOf, pairOf } from '../verdicts/drive-context.ts';
import { isBeyondCapacity, verifyRowsOf } from '../verdicts/verify-rows.ts';
import { defineCheck } from './define-check.ts';
import { exampleBase, exampleOutcome } from './example-base.ts';

const drives =
  'kind: drive\nid: d-0117\nfamily: tern-2\ncapacity_gb: 2000\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n';

/** More bytes verified than the patient holds. */
export const verifyExceedsCapacity = defineCheck({
  check: 'verify-exceeds-capacity',
  group: 'record',
  severity: 'error',
  scope: 'record',
  kinds: ['outcome'],
  why: 'The bytes decide which share of the drive was checked, and so whether its content counts as verified. A pool’s total, or two passes counted as one, makes a tenth of a drive look like all of it.',
  examples: () => [
    {
      title: "A pool's total on one of its drives",
      files: {
        ...exampleBase,
        'drives/tern.yaml': drives,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
verify:
  - {method: hash_compare, bytes: 2400000000000, errors: 0}
#                                 ^^^^^^^^^^^^^ verify-exceeds-capacity: \`verify\` counts 2,400,000,000,000 bytes in one pass, but patient \`d-0117\` holds about 2 TB.
reached: reads
result: works
`,
      },
    },
    {
      title: 'Two passes',
      files: {
        ...exampleBase,
        'drives/tern.yaml': drives,
        'outcomes/one.yaml': exampleOutcome(
          'verify: [{method: hash_compare, bytes: 2400000000000, passes: 2, errors: 0}]\n',
        ),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome' || !record.data.verify) return;
    const pair = pairOf(record, snapshot);
    for (const verify of verifyRowsOf(record, pair)) {
      if (!pair.patient || !isBeyondCapacity(verify)) continue;
      const { bytes = 0, passes = 1 } = verify.row;
      const { drive } = pair.patient;
      const exact = exactBytes(capacityFactsOf(pair.patient));
      const holds =
        exact === undefined ? `about ${byteSize((drive.data.capacity_gb ?? 0) * 1e9)}` : `${inThousands(exact)} bytes`;
      yield {
        at: { record, path: ['verify', verify.position, 'bytes'], side: 'value' },
        message: `\`verify\` counts ${inThousands(bytes)} bytes in ${passes === 1 ? 'one pass' : `${passes} passes`}, but patient \`${drive.id}\` holds ${holds}.`,
        help: "If it was a pool's total, record the bytes read from this drive.",
        related: [
          {
            at: { record: drive, path: [exact === undefined ? 'capacity_gb' : 'lba_count'], side: 'value' },
            message: 'The size of the patient.',
          },
        ],
      };
    }
  },
});
