/** How many tests of a suite passed, failed, and were skipped. */
export interface SuiteCounts {
  readonly passed: number;
  readonly failed: number;
  readonly skipped: number;
}

/** The word before the counts in the one line that a suite prints at its end. */
export const countsMark = 'SUITE_COUNTS';
