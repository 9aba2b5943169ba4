import { execFileSync } from 'node:child_process';
import type { JointFigures } from './comparisons.ts';
import { programs } from './programs.ts';
import { acrossRuns, type SizeResult } from './size-result.ts';
import { coldLint } from './subjects.ts';
import type { Measured } from './targets.ts';

/** What edits of a base take in one process, see `programs/edit-in-process.ts`, in milliseconds. */
export function editTimes(folder: string): readonly number[] {
  process.stderr.write(`${folder}: edits in memory\n`);
  return JSON.parse(execFileSync(process.execPath, [programs.editInProcess, folder], { encoding: 'utf8' })) as number[];
}

/** What reasoning takes on a base of size L, see `programs/contradictions.ts`, beside what cold lints of one took. */
export function jointFigures(lints: SizeResult): Measured['joint'] {
  process.stderr.write('size L: planted contradictions\n');
  const printed = execFileSync(process.execPath, [programs.contradictions], { encoding: 'utf8' });
  return { ...(JSON.parse(printed) as JointFigures), coldLintMs: acrossRuns(lints, (run) => run(coldLint).ms) };
}
