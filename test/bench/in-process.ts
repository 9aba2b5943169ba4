import { execFileSync } from 'node:child_process';
import type { CachedBase } from './base/base-cache.ts';
import type { JointFigures } from './comparisons.ts';
import { measureSize } from './measure-size.ts';
import { programs } from './programs.ts';
import { acrossRuns } from './size-result.ts';
import { coldLint } from './subjects.ts';
import type { Measured } from './targets.ts';

/** What edits of a base take in one process, see `programs/edit-in-process.ts`, in milliseconds. */
export function editTimes(folder: string): readonly number[] {
  process.stderr.write(`${folder}: edits in memory\n`);
  return printedBy(programs.editInProcess, folder) as number[];
}

/** What joint reasoning takes, see `programs/contradictions.ts`. */
export function jointFigures(): JointFigures {
  process.stderr.write('size L: planted contradictions\n');
  return printedBy(programs.contradictions) as JointFigures;
}

/** What all reasoning takes on a base, a cold lint of it taking turns. */
export function reasoningTimes(base: CachedBase, runs: number): Measured['reasoning'] {
  return Array.from({ length: runs }, () => {
    const lint = measureSize(base, 'L, reasoning', [coldLint], 1);
    const { ms } = printedBy(programs.reason, base.folder) as { readonly ms: number };
    return { ms, lintMs: acrossRuns(lint, (run) => run(coldLint).ms) };
  });
}

function printedBy(program: string, ...words: readonly string[]): unknown {
  return JSON.parse(execFileSync(process.execPath, [program, ...words], { encoding: 'utf8' }));
}
