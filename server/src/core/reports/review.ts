import type { Finding } from '../checks/finding.ts';
import type { Review } from '../review/review-change.ts';
import type { Block } from './document.ts';
import { findingSection } from './finding-section.ts';
import { recordsSection } from './review-records.ts';
import { rulesSection } from './review-rules.ts';
import { goneSection, mergeSection, questionsSection } from './review-sections.ts';
import { reviewSummary } from './review-summary.ts';
import { donorsSection, oddsSection, outcomesSection, settingsSection } from './review-tables.ts';

/** What a review is of, in the words of whoever asked for it. */
export interface ReviewNames {
  /** The revision or folder that was compared with. */
  readonly base: string;
  /** The revision or folder with the change. */
  readonly head: string;
  /** What is to be known of the comparison itself, sentence by sentence: a merge base that is missing, files that could not be read. */
  readonly remarks: readonly string[];
}

/** Findings a review spells out, the gravest ones. */
const mostFindings = 200;

/** What a change means for the shop: in a few sentences, then what to ask, what is wrong, and everything that differs. */
export function reviewDocument(review: Review, { base, head, remarks }: ReviewNames): Block[] {
  return [
    { kind: 'heading', level: 1, text: `Review: ${head} against ${base}` },
    ...remarks.map((text): Block => ({ kind: 'caution', text })),
    ...reviewSummary(review),
    ...questionsSection(review),
    ...newFindings(review.findings.new),
    ...mergeSection(review),
    ...settingsSection(review),
    ...outcomesSection(review),
    ...rulesSection(review),
    ...oddsSection(review),
    ...donorsSection(review),
    ...goneSection(review),
    ...recordsSection(review),
  ];
}

function newFindings(findings: readonly Finding[]): Block[] {
  const section = findingSection('New findings', findings);
  const left = findings.length - mostFindings;
  if (left <= 0) return section;
  const shown = section.map(
    (block): Block =>
      block.kind === 'findings' ? { ...block, findings: block.findings.slice(0, mostFindings) } : block,
  );
  return [
    ...shown,
    { kind: 'paragraph', text: `${left} more are not shown, the least grave ones; the JSON output has them all.` },
  ];
}
