import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { parseDate } from '../terms/calendar.ts';
import { pairOf, sidesOf } from '../verdicts/drive-context.ts';
import { isUsedBeforeMade } from '../verdicts/made-readings.ts';
import { defineCheck } from './define-check.ts';
import { examplePair } from './example-base.ts';

const drives =
  'kind: drive\nid: d-0117\nfamily: tern-2\nmade: 2012-W31\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n';

/** An outcome dated before one of its drives was made. */
export const madeAfterUse = defineCheck({
  check: 'made-after-use',
  group: 'record',
  severity: 'error',
  scope: 'record',
  kinds: ['outcome'],
  why: 'One of the two dates is wrong. If it is that of the outcome, the order of a patient’s swaps is lost; if it is that of the drive, donors are looked for among the wrong boards.',
  examples: () => [
    {
      title: 'Tried in the week before it was made',
      files: {
        ...examplePair,
        'drives/tern.yaml': drives,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2012-07-29
#     ^^^^^^^^^^ made-after-use: Outcome \`one\` is dated \`2012-07-29\`, but patient \`d-0117\` was made \`2012-W31\`.
patient: d-0117
donor: d-0118
rom: left
reached: reads
result: works
`,
      },
    },
    {
      title: 'Tried in the very week',
      files: {
        ...examplePair,
        'drives/tern.yaml': drives,
        'outcomes/one.yaml':
          'kind: outcome\nid: one\ndate: 2012-07-30\npatient: d-0117\ndonor: d-0118\nrom: left\nreached: reads\nresult: works\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    const date = record.kind === 'outcome' && record.data.date !== undefined ? parseDate(record.data.date) : undefined;
    if (record.kind !== 'outcome' || date === undefined) return;
    const late = sidesOf(pairOf(record, snapshot)).filter(({ context }) => isUsedBeforeMade(date, context));
    if (late.length === 0) return;
    const made = late.map(({ side, context: { drive } }) => `${side} \`${drive.id}\` was made \`${drive.data.made}\``);
    yield {
      at: { record, path: ['date'], side: 'value' },
      message: `Outcome \`${record.id}\` is dated \`${record.data.date}\`, but ${made.join(' and ')}.`,
      related: late.map(({ side, context: { drive } }) => ({
        at: { record: drive, path: ['made'], side: 'value' },
        message: `When the ${side} was made.`,
      })),
    };
  },
});
