import type { Finding } from '../core/checks/finding.ts';
import { type ResolvedFinding, resolveEach } from '../core/checks/resolve-findings.ts';
import type { Review } from '../core/review/review-change.ts';
import { readTapes } from '../host/git/read-tapes.ts';
import type { OpenReview } from './open-review.ts';
import { type ShownFile, withShownRecords } from './shown-files.ts';

/** The states of a base that findings of a review are about. */
type Side = 'before' | 'after' | 'merged';

/** A review whose findings are in the order of their places, with their places in lines and files as output shows them. */
export interface LocatedReview {
  readonly review: Review;
  /** A finding of a side as data; lines and characters count from 0. */
  readonly findingData: (finding: Finding, side: Side) => object;
}

/** Finds the places of a review in the files, which are read again. `shown` gives a file of the base as output shows it. */
export async function locateReview(
  review: Review,
  { repository, diskRoot, mergedContents }: OpenReview,
  shown: ShownFile,
): Promise<LocatedReview> {
  const { findings, onMerge, config } = review;
  const resolve = async (found: readonly Finding[]): Promise<ReadonlyMap<Finding, ResolvedFinding>> => {
    const places = found.flatMap(({ place, related }) => [place, ...related.map((other) => other.place)]);
    const tapes = await readTapes(places, { repository, diskRoot }, mergedContents);
    return new Map(resolveEach(found, tapes).map(([resolved, finding]) => [finding, resolved]));
  };
  const [after, before, merged] = [
    await resolve([...findings.new, ...config.flatMap(({ hides }) => hides)]),
    await resolve(findings.gone),
    await resolve((onMerge ?? []).map(({ finding }) => finding)),
  ];
  const inOrder = (found: readonly Finding[], places: ReadonlyMap<Finding, ResolvedFinding>): Finding[] => {
    const wanted = new Set(found);
    return [...places.keys()].filter((finding) => wanted.has(finding));
  };
  return {
    review: {
      ...withShownRecords(review, shown),
      findings: { ...findings, new: inOrder(findings.new, after), gone: inOrder(findings.gone, before) },
    },
    findingData: (finding, side) => toData(finding, { before, after, merged }[side].get(finding), shown),
  };
}

function toData(finding: Finding, resolved: ResolvedFinding | undefined, shown: ShownFile): object {
  const { check, severity, message, help, record, place } = finding;
  return {
    check,
    severity,
    file: shown(place.file),
    range: resolved?.range,
    message,
    help,
    record,
    related: resolved?.related.map((other) => ({
      file: shown(other.file),
      range: other.range,
      message: other.message,
    })),
  };
}
