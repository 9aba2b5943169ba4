import type { Finding, Place } from '../core/checks/finding.ts';
import type { PlacedChange } from '../core/review/review.ts';
import type { Review } from '../core/review/review-change.ts';

/** Gives a file of the base as output shows it. */
export type ShownFile = (file: string) => string;

/** A review with the files of its records as output shows them; those of its findings stay, so that their places can be found. */
export function withShownRecords(review: Review, shown: ShownFile): Review {
  const shownRecord = <Placed extends Pick<PlacedChange, 'file'>>(placed: Placed): Placed => {
    return { ...placed, file: shown(placed.file) };
  };
  const { added, changed, removed } = review.records;
  return {
    ...review,
    records: {
      added: added.map(shownRecord),
      changed: changed.map(shownRecord),
      removed: removed.map(shownRecord),
    },
    onMerge: review.onMerge?.map((one) => ({ ...one, brought: one.brought.map(shownRecord) })),
  };
}

/** A review with all files as output shows them. */
export function withShownFiles(review: Review, shown: ShownFile): Review {
  const shownPlace = <Placed extends { readonly place: Place }>(placed: Placed): Placed => {
    return { ...placed, place: { ...placed.place, file: shown(placed.place.file) } };
  };
  const shownFinding = (finding: Finding): Finding => {
    return { ...shownPlace(finding), related: finding.related.map(shownPlace) };
  };
  const { findings, onMerge, ...rest } = withShownRecords(review, shown);
  return {
    ...rest,
    findings: { ...findings, new: findings.new.map(shownFinding), gone: findings.gone.map(shownFinding) },
    onMerge: onMerge?.map((one) => ({ ...one, finding: shownFinding(one.finding) })),
  };
}
