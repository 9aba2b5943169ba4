import type { Finding, Target } from '../checks/finding.ts';
import type { Path } from '../syntax/tape.ts';
import { grouped } from '../terms/grouped.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import type { FindingChanges } from './review.ts';

/**
 * Findings of two sides, matched one to one. Those about a record match wherever it stands, and wherever in a list what they are about
 * does. Those about a file that holds no readable record match in the file of that name, else in one with the same content.
 */
export function findingChanges(before: readonly Finding[], after: readonly Finding[]): FindingChanges {
  const first = unmatched(before, after, (finding) => keyOf(finding, finding.place.file));
  const { gone, news } = unmatched(first.gone, first.news, (finding) => keyOf(finding, finding.place.contentId));
  return { new: news.sort(byPlace), gone: gone.sort(byPlace), still: after.length - news.length };
}

/** Findings by file, then document or offset, check and message. */
function byPlace(a: Finding, b: Finding): number {
  return (
    byCodeUnits(a.place.file, b.place.file) ||
    startOf(a.place.target) - startOf(b.place.target) ||
    byCodeUnits(a.check, b.check) ||
    byCodeUnits(a.message, b.message)
  );
}

interface Unmatched {
  readonly gone: Finding[];
  readonly news: Finding[];
}

function unmatched(
  before: readonly Finding[],
  after: readonly Finding[],
  nameOf: (finding: Finding) => string,
): Unmatched {
  const left = grouped(before, nameOf);
  const news = after.filter((finding) => left.get(nameOf(finding))?.pop() === undefined);
  return { gone: [...left.values()].flat(), news };
}

/** Most findings stand on both sides as the same object, and long texts are only joined once for each. */
const keys = new WeakMap<Finding, string>();

function keyOf(finding: Finding, file: string): string {
  const { check, record, message, place } = finding;
  if (record === undefined) return JSON.stringify([check, message, file]);
  const known = keys.get(finding) ?? JSON.stringify([check, record, orderless(message), namesIn(place.target)]);
  keys.set(finding, known);
  return known;
}

/** A message in which the order that keys have in a quoted condition makes no difference. */
function orderless(message: string): string {
  return message.replace(/`[^`]*`/g, (quote) =>
    quote
      .split(/[\s,{}[\]`]+/)
      .sort()
      .join(' '),
  );
}

/** The keys that lead to a place; where in a list it stands is left out. */
function namesIn(target: Target): Path {
  return 'path' in target ? [...target.path.filter((step) => typeof step === 'string'), target.side] : [];
}

function startOf(target: Target): number {
  return 'document' in target ? target.document : target.start;
}
