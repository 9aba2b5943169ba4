import { type Draft, defineCheck } from './define-check.ts';

/** A check that crashed. */
export const internalCheckFailed = defineCheck({
  check: 'internal-check-failed',
  group: 'internal',
  severity: 'error',
  scope: 'run',
  why: 'The fault is ours, not the record’s. All other checks still ran, but what this one would have found is not known, so the run ends with exit code 3.',
  examples: () => [],
});

/** Invariant 14: what a crash in a check looks like to the user. */
export function describeCrash(check: string, file: string, error: unknown): Draft {
  const reason = error instanceof Error ? error.message : String(error);
  return {
    at: { file, start: 0, end: 0 },
    message: `Check \`${check}\` failed here: ${reason}.`,
    help: 'Report this together with the file; the other checks still ran.',
  };
}
