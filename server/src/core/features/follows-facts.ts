import { type Follows, followsOf } from '../captures/follows.ts';
import { pairOf } from '../verdicts/drive-context.ts';
import { isAfterSwap } from '../verdicts/identity-rows.ts';
import { type HoverFact, phrase } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';
import { reportedAt } from './reported-at.ts';

/** Which half of the drive a value reported after the swap followed, beside what its family is recorded to do. */
export function followsFacts(context: HoverContext): readonly HoverFact[] {
  const { record, path, file } = context;
  const report = reportedAt(context);
  if (record?.kind !== 'outcome' || !report || !isAfterSwap(report.column)) return [];
  const row = record.data.identity?.[Number(path[1])] ?? {};
  const [ofPlatters, ofBoard] =
    report.column === 'after' ? [row.patient_before, row.donor_before] : [row.donor_before, row.patient_before];
  const follows = followsOf({ value: report.value, reported: report.reported, ofPlatters, ofBoard });
  const { patient } = pairOf(record, file.snapshot);
  const expected = patient?.family?.data.identity?.[report.value];
  const family = phrase`; family ${patient?.family?.id ?? ''} is recorded with ${expected ?? ''}`;
  return follows === 'not_known'
    ? []
    : [{ label: 'Follows', text: [followsWords[follows], ...(expected === undefined ? [] : family)] }];
}

const followsWords: Readonly<Record<Exclude<Follows, 'not_known'>, string>> = {
  platters: 'the platters',
  board: 'the board',
  same_on_both: 'either: both drives reported the same before',
  neither: 'neither: no drive reported it before',
};
