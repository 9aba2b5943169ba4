import type { Snapshot } from '../index/snapshot.ts';
import { isRetracted, type OutcomeRecord } from '../model/record.ts';
import { capacityBytes } from '../terms/capacity.ts';
import type { Stage } from '../terms/stages.ts';
import { bytesMissing } from '../terms/verification.ts';
import { byteSize } from '../text/byte-size.ts';
import { inThousands } from '../text/in-thousands.ts';
import { rounded } from '../text/rounded.ts';
import { capacityFactsOf, pairOf } from '../verdicts/drive-context.ts';
import type { Missing } from '../verdicts/eligibility.ts';
import { evidenceOf, type Verdict } from '../verdicts/evidence.ts';
import { verifiedShare } from '../verdicts/verified-share.ts';
import type { HintDraft } from './hint-draft.ts';

/** The verdict of an outcome where its result does not say it, what an inconclusive one lacks, and the share that was compared. */
export function outcomeHints(outcome: OutcomeRecord, snapshot: Snapshot): readonly HintDraft[] {
  if (isRetracted(outcome)) return [];
  return [...shareHints(outcome, snapshot), ...verdictHints(outcome, snapshot)];
}

function verdictHints(outcome: OutcomeRecord, snapshot: Snapshot): HintDraft[] {
  const { worksAt } = snapshot.config;
  const { swap, verdicts } = evidenceOf(outcome, snapshot);
  const { reached, result } = outcome.data;
  // A verdict on a swap that is not recorded would say no more than the fault reported there.
  if (!swap || reached === undefined) return [];
  const verdict = verdicts[worksAt];
  const lacks = verdict.result === 'inconclusive' ? lacksInShort(verdict.missing) : '';
  if (verdict.result === result && lacks === '') return [];
  const isSaid = verdict.result === result;
  const text = isSaid ? lacks : `verdict: ${verdict.result}${lacks === '' ? '' : ` (${lacks})`}`;
  return [{ at: [['result'], ['reached']], text, detail: whyVerdict(verdict, reached, worksAt) }];
}

const proofs = { donor_proof: 'donor', patient_proof: 'patient', rom_proof: 'ROM', host_need: 'host' } as const;

/** "unproved: donor, ROM". */
function lacksInShort(missing: readonly Missing[]): string {
  const unproved = new Set(missing.flatMap(({ what }) => (what === 'damage' || what === 'record' ? [] : proofs[what])));
  const parts = [
    ...(unproved.size === 0 ? [] : [`unproved: ${[...unproved].join(', ')}`]),
    ...(missing.some(({ what }) => what === 'damage') ? ['damaged on the way'] : []),
    ...(missing.some(({ what }) => what === 'record') ? ['not readable'] : []),
  ];
  return parts.join('; ');
}

function whyVerdict({ result, missing }: Verdict, reached: Stage, worksAt: Stage): string {
  if (result === 'works') return `It reached \`${reached}\`, and this base counts \`${worksAt}\` as working.`;
  const below = `It reached \`${reached}\`, below the \`${worksAt}\` this base counts as working`;
  if (result === 'fails') return `${below}, with every control in place.`;
  return `${below}. A failure counts only with every control in place: ${missing.map(({ says }) => says).join('; ')}.`;
}

function shareHints(outcome: OutcomeRecord, snapshot: Snapshot): HintDraft[] {
  const { patient } = pairOf(outcome, snapshot);
  const capacity = patient && capacityBytes(capacityFactsOf(patient));
  const verified = verifiedShare(outcome, capacity);
  const at = [['verify', (outcome.data.verify ?? []).length - 1]];
  if (verified.state === 'nothing_compared' && outcome.data.verify) {
    return [
      { at, text: 'no content compared', detail: 'No row here compares content, so none of it counts as verified.' },
    ];
  }
  if (verified.state !== 'share' || capacity === undefined) return [];
  const { verifiedShare: wanted } = snapshot.config;
  // Rounded down, so that what falls short of the limit never looks as if it met it.
  const shown = rounded(Math.floor(1000 * verified.share) / 10, 1);
  const missing = bytesMissing(verified.bytes, wanted, capacity);
  const enough =
    missing === 0
      ? 'enough for `verified`'
      : `not enough for \`verified\`; ${inThousands(missing)} bytes more would be`;
  const detail = `Rows that compare content cover ${shown} % of the patient's ${byteSize(capacity)}, each pass counted once. This base asks for ${rounded(100 * wanted, 4)} %, so it is ${enough}.`;
  return [{ at, text: `${shown} % compared`, detail }];
}
