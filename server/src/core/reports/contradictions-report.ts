import type { Finding } from '../checks/finding.ts';
import { internalCheckFailed } from '../checks/internal-check-failed.ts';
import { collectContradictions, contradictionsDocument, reportedChecks } from './contradictions.ts';
import { defineReport } from './define-report.ts';

/** How the outcomes of a base stand to its rules and to each other. */
export const contradictionsReport = defineReport({
  name: 'contradictions',
  title: 'Outcomes against rules',
  shows: 'its outcomes against its rules',
  document: ({ snapshot, findings, baseName }) =>
    contradictionsDocument(collectContradictions(snapshot), findings.filter(isReported), baseName),
});

/** Crashes of our own are told wherever findings may be missing for them. */
function isReported({ check }: Finding): boolean {
  return [...reportedChecks, internalCheckFailed].some((one) => one.check === check);
}
