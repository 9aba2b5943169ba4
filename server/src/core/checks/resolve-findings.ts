import type { Tape } from '../syntax/tape.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import type { Finding } from './finding.ts';
import { PlaceResolver, type ResolvedPlace } from './resolve-place.ts';

/** A finding whose places are found in the text. */
export interface ResolvedFinding extends Omit<Finding, 'place' | 'related'>, ResolvedPlace {
  readonly related: readonly (ResolvedPlace & { readonly message: string })[];
}

/** A finding as it is shown, with what it was found as. */
export type FoundAt = readonly [shown: ResolvedFinding, finding: Finding];

/** The files whose text is needed to resolve these findings. */
export function filesOf(findings: readonly Finding[]): Set<string> {
  return new Set(
    findings
      .flatMap((finding) => [finding.place, ...finding.related.map(({ place }) => place)])
      .map((place) => place.file),
  );
}

/** Findings with their places, sorted by file, offset, check and message (invariant 13). A file that has no tape counts as empty. */
export function resolveFindings(findings: readonly Finding[], tapes: ReadonlyMap<string, Tape>): ResolvedFinding[] {
  return resolveEach(findings, tapes).map(([resolved]) => resolved);
}

/** The same, each with the finding it was. */
export function resolveEach(findings: readonly Finding[], tapes: ReadonlyMap<string, Tape>): FoundAt[] {
  const resolver = new PlaceResolver(tapes);
  return inOrder(
    findings.map((finding) => {
      const { place, related, ...rest } = finding;
      const places = related.map(({ place: other, message }) => ({ ...resolver.resolve(other), message }));
      return [{ ...rest, ...resolver.resolve(place), related: places }, finding] as const;
    }),
  );
}

/** Findings in the order in which they are shown, sorted in place. */
export function inOrder(found: FoundAt[]): FoundAt[] {
  return found.sort(
    ([a], [b]) =>
      byCodeUnits(a.file, b.file) ||
      a.start - b.start ||
      byCodeUnits(a.check, b.check) ||
      byCodeUnits(a.message, b.message) ||
      // Only what says the same of one place comes this far. What is shown may not depend on what was remembered of which.
      byCodeUnits(JSON.stringify(a), JSON.stringify(b)),
  );
}
