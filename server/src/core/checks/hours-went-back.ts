import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { pairOf } from '../verdicts/drive-context.ts';
import { type Column, isAfterSwap, reportsOf } from '../verdicts/identity-rows.ts';
import { defineCheck } from './define-check.ts';
import { exampleOutcome, examplePair } from './example-base.ts';
import { isBeyondAge } from './hours-exceed-age.ts';

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
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome') return;
    const hours = reportsOf(record, 'power_on_hours');
    if (!hours.some(({ column }) => isAfterSwap(column))) return;
    const pair = pairOf(record, snapshot);
    // A count that cannot be hours was reported as such, and nothing can go back from it.
    const reports = hours.filter((report) => !isBeyondAge(record, report, pair));
    const least = (column: Column): number =>
      Math.min(...reports.filter((report) => report.column === column).map(({ reported }) => Number(reported)));
    const patient = least('patient_before');
    const donor = least('donor_before');
    if (!Number.isFinite(patient) || !Number.isFinite(donor)) return;
    for (const { column, reported, path } of reports) {
      if (!isAfterSwap(column) || Number(reported) >= Math.min(patient, donor)) continue;
      yield {
        at: { record, path, side: 'value' },
        message: `\`${column}\` is \`${reported}\` hours, fewer than the patient's \`${patient}\` and the donor's \`${donor}\` before.`,
      };
    }
  },
});
