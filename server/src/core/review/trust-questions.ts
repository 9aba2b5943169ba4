import type { Finding } from '../checks/finding.ts';
import { serialNotMasked } from '../checks/serial-not-masked.ts';
import { type AnyRecord, labelOf, nameOf, readName } from '../model/record.ts';
import { isMaskedSerial } from '../terms/masked-serial.ts';
import { recordedSerialsOf } from '../verdicts/recorded-serials.ts';
import { freshRecords } from './fresh-records.ts';
import type { Question, Review } from './review.ts';

type Asked = Pick<Review, 'change' | 'records' | 'findings'>;

/** What is to be asked of records that hold a serial number in full since the change. `hidden` are findings that a setting hides. */
export function serialQuestions(
  { change: { before, after }, records, findings }: Asked,
  hidden: readonly Finding[],
): readonly Question[] {
  const found = [...findings.new, ...hidden].filter(({ check }) => check === serialNotMasked.check);
  const named = found.flatMap(({ record }) => record ?? []);
  const whole = freshRecords(records)
    .filter((record) => wholeSerials(record) > wholeSerials(before.findAny(record.kind, record.id)))
    .map(nameOf);
  const says =
    after.config.serials === 'full'
      ? 'have the owners agreed to that?'
      : 'this base keeps them masked; can it be taken out of the history of the repository too?';
  return [...new Set([...named, ...whole])].sort().map((record) => {
    const read = readName(record);
    return { record, text: `${read ? labelOf(read) : record} holds a serial number in full: ${says}` };
  });
}

/** What is to be asked of rules and families that rest on hearsay since the change. */
export function hearsayQuestions({ change: { before }, records }: Asked): readonly Question[] {
  return freshRecords(records).flatMap((record) => {
    if (!isHearsay(record) || isHearsay(before.findAny(record.kind, record.id))) return [];
    const label = labelOf(record);
    const text =
      record.kind === 'rule'
        ? `${label} rests on hearsay: who says so, and which swap would show it?`
        : `Where ${label.toLowerCase()} keeps its adaptives is hearsay: who says so, and which swap would show it?`;
    return [{ record: nameOf(record), text }];
  });
}

function isHearsay(record: AnyRecord | undefined): boolean {
  if (record?.kind === 'rule') return record.data.basis === 'hearsay';
  return record?.kind === 'family' && record.data.adaptives?.basis === 'hearsay';
}

/** Serial numbers in full that a record holds itself. */
function wholeSerials(record: AnyRecord | undefined): number {
  return record ? recordedSerialsOf(record).filter(({ serial }) => !isMaskedSerial(serial)).length : 0;
}
