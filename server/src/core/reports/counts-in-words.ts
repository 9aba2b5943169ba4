import type { Severity } from '../terms/severities.ts';
import { plural } from '../text/plural.ts';

/** What has a severity. */
type Severe = { readonly severity: Severity };

/** Number of findings of each severity. */
export function countBySeverity(findings: readonly Severe[]): Record<Severity, number> {
  const count = (severity: Severity): number => findings.filter((finding) => finding.severity === severity).length;
  return { error: count('error'), warning: count('warning'), info: count('info') };
}

/** The counts of the findings in words: `1 error, 0 warnings, 2 notes`. */
export function countsInWords(findings: readonly Severe[]): string {
  const { error, warning, info } = countBySeverity(findings);
  return [plural(error, 'error'), plural(warning, 'warning'), plural(info, 'note')].join(', ');
}
