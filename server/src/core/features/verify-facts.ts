import type { OutcomeRecord } from '../model/record.ts';
import { capacityBytes } from '../terms/capacity.ts';
import { capacityFactsOf, pairOf } from '../verdicts/drive-context.ts';
import { inPercent } from '../verdicts/observed-limits.ts';
import { verifiedShare } from '../verdicts/verified-share.ts';
import type { HoverFact } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';

/** What of the patient was compared, by all rows together, beside what the base asks for. */
export function verifyFacts(context: HoverContext): readonly HoverFact[] {
  const { record, path, row } = context;
  if (record?.kind !== 'outcome' || path[0] !== 'verify' || !counted.has(row.name)) return [];
  const text = shareOf(record, context);
  return text === undefined ? [] : [{ label: 'Verified', text: [text] }];
}

/** The keys of a row that the share is made of. */
const counted: ReadonlySet<string> = new Set(['method', 'bytes', 'errors', 'passes']);

function shareOf(outcome: OutcomeRecord, { file }: HoverContext): string | undefined {
  const { patient } = pairOf(outcome, file.snapshot);
  const verified = verifiedShare(outcome, patient && capacityBytes(capacityFactsOf(patient)));
  switch (verified.state) {
    case 'share':
      return `${inPercent(verified.share)} of the patient compared without error; this base asks for ${inPercent(file.snapshot.config.verifiedShare)}`;
    case 'errors':
      return 'nothing counts, as a comparing row has errors';
    case 'nothing_compared':
      return 'no row compares content';
    case 'not_known':
      return undefined;
  }
}
