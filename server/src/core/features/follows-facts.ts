import { pairOf } from '../verdicts/drive-context.ts';
import { type Follows, followsOf } from '../verdicts/follows.ts';
import { isAfterSwap, reportsOf } from '../verdicts/identity-rows.ts';
import { type HoverFact, phrase } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';

/** Which half of the drive a value reported after the swap followed, beside what its family is recorded to do. */
export function followsFacts({ record, path, file }: HoverContext): readonly HoverFact[] {
  const [list, position, key] = path;
  if (record?.kind !== 'outcome' || list !== 'identity') return [];
  const row = record.data.identity?.[Number(position)];
  const report = reportsOf(record).find(({ path: at }) => at[1] === position && at[2] === key);
  if (!row || !report || !isAfterSwap(report.column)) return [];
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
