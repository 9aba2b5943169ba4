import type { Finding } from '../../core/checks/finding.ts';
import type { ResolvedFinding } from '../../core/checks/resolve-findings.ts';

/** What a run of checks came to. */
export interface RememberedRun {
  readonly records: number;
  /** In the order in which they are shown. */
  readonly findings: readonly ResolvedFinding[];
  /** The content ids that the files had in which findings have places, by path. */
  readonly contents: Readonly<Record<string, string>>;
}

/** The content ids of the files in which findings have places, by path. */
export function contentsOf(findings: readonly Finding[]): Readonly<Record<string, string>> {
  const places = findings.flatMap(({ place, related }) => [place, ...related.map((other) => other.place)]);
  return Object.fromEntries(places.map(({ file, contentId }) => [file, contentId]));
}
