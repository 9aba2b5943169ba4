import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, type DriveRecord, isRetracted } from '../model/record.ts';
import { datesIn } from '../schema/dates-in.ts';
import { type Day, formatDate, isAhead, parseDate } from '../terms/calendar.ts';
import { contextOf } from '../verdicts/drive-context.ts';
import { isMadeOutside } from '../verdicts/family-fit.ts';
import { contradictingReadings, isUsedBeforeMade } from '../verdicts/made-readings.ts';
import { defineCheck } from './define-check.ts';
import { examplePair } from './example-base.ts';

/** A date that has not come yet. */
export const dateInFuture = defineCheck({
  check: 'date-in-future',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  why: 'Nothing on a bench happens tomorrow: a digit is wrong. A swap dated ahead stands last in its patient’s history whatever really happened, and what came after it seems to have come before.',
  examples: () => [
    {
      title: 'Two days ahead of 2026-11-25, on which these examples are checked',
      files: {
        ...examplePair,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-11-27
#     ^^^^^^^^^^ date-in-future: \`date\` is \`2026-11-27\`, but today is 2026-11-25.
patient: d-0117
donor: d-0118
rom: left
reached: reads
result: works
`,
      },
    },
    {
      title: 'One day ahead, as it may be elsewhere on earth',
      files: {
        ...examplePair,
        'outcomes/one.yaml':
          'kind: outcome\nid: one\ndate: 2026-11-26\npatient: d-0117\ndonor: d-0118\nrom: left\nreached: reads\nresult: works\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot, today: Day) {
    for (const { row, text, path } of datesIn(record.kind, record.data)) {
      if (!isAhead(text, today)) continue;
      if (record.kind === 'drive' && row.name === 'made' && isReportedElsewhere(record, snapshot)) continue;
      yield {
        at: { record, path, side: 'value' },
        message: `\`${row.name}\` is \`${text}\`, but today is ${formatDate(today)}.`,
      };
    }
  },
});

/** Whether a drive's `made` is found wrong without asking what day it is. */
function isReportedElsewhere(drive: DriveRecord, snapshot: Snapshot): boolean {
  const context = contextOf(drive, snapshot);
  if (isMadeOutside(context) || contradictingReadings(context).length > 0) return true;
  if (isRetracted(drive)) return false;
  return snapshot.records('outcome').some(({ data }) => {
    if (data.date === undefined || (data.patient !== drive.id && data.donor !== drive.id)) return false;
    const day = parseDate(data.date);
    return day !== undefined && isUsedBeforeMade(day, context);
  });
}
