import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { pairOf } from '../verdicts/drive-context.ts';
import { type Column, isAfterSwap } from '../verdicts/identity-rows.ts';
import { allReportsOf } from '../verdicts/outcome-captures.ts';
import { defineCheck } from './define-check.ts';
import { exampleCapture, exampleOutcome, examplePair } from './example-base.ts';
import { isBeyondAge } from './hours-exceed-age.ts';
import { spotOf } from './report-spot.ts';

/** Fewer power-on hours after the swap than either drive had before. */
export const hoursWentBack = defineCheck({
  check: 'hours-went-back',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  kinds: ['outcome'],
  why: 'A counter only goes up, wherever it is kept. A value below both means a slip in copying, or a third drive’s data on the board, and then the swap says nothing about this pair.',
  examples: () => [
    {
      title: 'Below both',
      files: {
        ...examplePair,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
identity: [{value: power_on_hours, patient_before: 18250, donor_before: 21480, after: 1825}]
#                                                                                     ^^^^ hours-went-back: \`after\` is \`1825\` hours, fewer than the patient's \`18250\` and the donor's \`21480\` before.
reached: reads
result: works
`,
      },
    },
    {
      title: 'The counter of the other drive',
      files: {
        ...examplePair,
        'outcomes/one.yaml': exampleOutcome(
          'identity: [{value: power_on_hours, patient_before: 21480, donor_before: 18250, after: 18250}]\n',
        ),
      },
    },
    {
      title: 'Captured hours below those of both rows',
      files: {
        ...examplePair,
        'outcomes/one.yaml':
          exampleOutcome(`identity: [{value: power_on_hours, patient_before: 18250, donor_before: 21480}]
captures: {after: 117-on-118.json}
#                 ^^^^^^^^^^^^^^^ hours-went-back: \`after\` is \`1825\` hours, fewer than the patient's \`18250\` and the donor's \`21480\` before.
`),
        'outcomes/117-on-118.json': exampleCapture({ powerOnHours: 1825 }),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome') return;
    const hours = allReportsOf(record, snapshot, 'power_on_hours');
    if (!hours.some(({ column }) => isAfterSwap(column))) return;
    const pair = pairOf(record, snapshot);
    // A count that cannot be hours was reported as such, and nothing can go back from it.
    const reports = hours.filter((report) => !isBeyondAge(record, report, pair));
    const least = (column: Column): number =>
      Math.min(...reports.filter((report) => report.column === column).map(({ reported }) => Number(reported)));
    const patient = least('patient_before');
    const donor = least('donor_before');
    if (!Number.isFinite(patient) || !Number.isFinite(donor)) return;
    for (const report of reports) {
      const { column, reported } = report;
      if (!isAfterSwap(column) || Number(reported) >= Math.min(patient, donor)) continue;
      yield {
        ...spotOf(record, report),
        message: `\`${column}\` is \`${reported}\` hours, fewer than the patient's \`${patient}\` and the donor's \`${donor}\` before.`,
      };
    }
  },
});
