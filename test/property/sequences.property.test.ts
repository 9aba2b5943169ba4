import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { afterStep, arbitraryBaseToMend, arbitraryStep, type Step } from '../harness/arbitrary-sequence.ts';
import { editedPaths } from '../harness/arbitrary-walk.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { type CheckedFiles, checkFresh, foundIn, runOver, type TextFiles } from '../harness/checked-files.ts';
import { fileOf, isRecordFile, withSeen } from '../harness/snapshot-of.ts';

/** The files after they became these, checked on top of what was known. */
function checkedOnTop({ texts: old, run }: CheckedFiles, texts: TextFiles): CheckedFiles {
  const changes = editedPaths(old, texts)
    .filter(isRecordFile)
    .map((path) => {
      const text = texts[path];
      return { path, file: text === undefined ? undefined : fileOf(path, text) };
    });
  return { texts, run: runOver(withSeen(run.snapshot.with(changes), texts), run) };
}

/** How often a step changed something. */
const changed: Record<Step['does'], number> = {
  ...{ type: 0, misspell: 0, undo: 0, remedy: 0, 'fix all': 0, rename: 0, format: 0, act: 0, remove: 0 },
};

it('after typing, undoing, mending, acting, renaming and formatting in any order a run finds what a fresh one finds', () => {
  const steps = fc.array(arbitraryStep, { minLength: 2, maxLength: 4 });
  assertLaw(
    2000,
    fc.property(arbitraryBaseToMend, steps, (start, sequence) => {
      const history = [checkFresh(start)];
      for (const step of sequence) {
        const now = history.at(-1)!;
        const texts = afterStep(step, now, history.at(-2)?.texts ?? start);
        if (isDeepStrictEqual(texts, now.texts)) continue;
        changed[step.does]++;
        if (step.does === 'undo') history.pop();
        const next = checkedOnTop(now, texts);
        const [found, fresh] = [foundIn(next), foundIn(checkFresh(texts))];
        // Comparing is quick; saying what differs is not.
        if (!isDeepStrictEqual(found, fresh)) expect(found, `after ${JSON.stringify(step)}`).toEqual(fresh);
        if (step.does === 'undo') history.pop();
        history.push(next);
      }
    }),
  );
  // Every kind of step has to have had something to do.
  expect(Object.entries(changed).filter(([, count]) => count < 80)).toEqual([]);
});
