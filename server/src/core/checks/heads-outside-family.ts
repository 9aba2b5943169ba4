import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { contextOf } from '../verdicts/drive-context.ts';
import { isModelOutside } from '../verdicts/family-fit.ts';
import { defineCheck } from './define-check.ts';
import { exampleFamily } from './example-base.ts';

const family = exampleFamily('heads: {min: 2, max: 6}\n');

/** A drive with fewer or more heads than its family is built with. */
export const headsOutsideFamily = defineCheck({
  check: 'heads-outside-family',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  kinds: ['drive'],
  why: 'A count outside the range is a slip of the pen, a misfiled drive, or one with a head switched off at the factory. The last matters to a swap: only the patient’s own ROM knows which head that is.',
  examples: () => [
    {
      title: 'One head too many',
      files: {
        ...family,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
heads: 7
#      ^ heads-outside-family: Drive \`d-0117\` has \`7\` heads, but family \`tern-2\` is built with 2 to 6.
`,
      },
    },
    {
      title: 'As many as there can be',
      files: { ...family, 'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\nheads: 6\n' },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'drive' || record.data.heads === undefined) return;
    const context = contextOf(record, snapshot);
    const { min, max } = context.family?.data.heads ?? {};
    const { heads } = record.data;
    const isBelow = min !== undefined && heads < min;
    const isAbove = max !== undefined && heads > max;
    const isRange = min === undefined || max === undefined || min <= max;
    if (!context.family || !(isBelow || isAbove) || !isRange || isModelOutside(context)) return;
    const built =
      min !== undefined && max !== undefined ? `${min} to ${max}` : isBelow ? `${min} at least` : `${max} at most`;
    yield {
      at: { record, path: ['heads'], side: 'value' },
      message: `Drive \`${record.id}\` has \`${heads}\` ${heads === 1 ? 'head' : 'heads'}, but family \`${context.family.id}\` is built with ${built}.`,
      related: [{ at: { record: context.family, path: ['heads'], side: 'key' }, message: 'The range of the family.' }],
    };
  },
});
