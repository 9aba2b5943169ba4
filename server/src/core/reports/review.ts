import type { Finding } from '../checks/finding.ts';
import type { Review } from '../review/review-change.ts';
import { countBySeverity } from './counts-in-words.ts';
import type { Block } from './document.ts';

/** What a review is of, in the words of whoever asked for it. */
export interface ReviewNames {
  /** The revision or folder that was compared with. */
  readonly base: string;
  /** The revision or folder with the change. */
  readonly head: string;
  /** What is to be known of the comparison itself, sentence by sentence: a merge base that is missing, files that could not be read. */
  readonly remarks: readonly string[];
}

/** What a change means for the shop. */
export function reviewDocument(review: Review, { base, head, remarks }: ReviewNames): Block[] {
  return [
    { kind: 'heading', level: 1, text: `Review: \`${head}\` against \`${base}\`` },
    ...remarks.map((text): Block => ({ kind: 'paragraph', text })),
    { kind: 'paragraph', text: `${countBySeverity(review.findings.new).error} new errors.` },
  ];
}

/** The same with the keys and shapes of the JSON output. `findingData` gives a finding as its adapter lists it, with its place in lines. */
export function reviewData(
  review: Review,
  {
    base,
    head,
    findingData,
  }: Pick<ReviewNames, 'base' | 'head'> & { readonly findingData: (finding: Finding) => object },
): object {
  return {
    base,
    head,
    findings: {
      new: review.findings.new.map(findingData),
      gone: review.findings.gone.map(findingData),
      still: review.findings.still,
    },
  };
}
