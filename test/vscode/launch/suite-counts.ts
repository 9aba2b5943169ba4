/** How many tests of a suite passed, failed, and were skipped. */
export interface SuiteCounts {
  readonly passed: number;
  readonly failed: number;
  readonly skipped: number;
}

/** The word before the counts in the one line that a suite prints at its end. */
const mark = 'SUITE_COUNTS';

/** Whether a line says how a test went. */
export function isVerdict(line: string): boolean {
  return /^ {2}[✓✗]/.test(line);
}

/** The line with the counts. */
export function printCounts(counts: SuiteCounts): string {
  return `${mark} ${JSON.stringify(counts)}`;
}

/** The counts in what a suite printed. Throws where there are none, or no test ran. */
export function readCounts(printed: readonly string[]): SuiteCounts {
  const json = printed.flatMap((line) => line.split('\n')).find((line) => line.startsWith(mark));
  if (!json) throw new Error(`The suite did not come to its end. It printed last:\n${printed.slice(-30).join('\n')}`);
  const counts: SuiteCounts = JSON.parse(json.slice(mark.length));
  if (counts.passed + counts.failed === 0) throw new Error('No test ran.');
  return counts;
}
