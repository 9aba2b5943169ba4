import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Check, Draft } from '../../server/src/core/checks/define-check.ts';
import { checks } from '../../server/src/core/checks/registry.ts';
import { runChecks } from '../../server/src/core/checks/run-checks.ts';
import { arbitraryBaseToMend, pathIn } from '../harness/arbitrary-sequence.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import {
  type CheckedFiles,
  checkFresh,
  foundIn,
  nameOfFinding,
  textsAfterFixAll,
  weighed,
} from '../harness/checked-files.ts';
import { drained } from '../harness/drained.ts';

/** A file before and after all in it is mended at once, each checked from nothing. */
interface Mended {
  readonly path: string;
  readonly before: CheckedFiles;
  readonly after: CheckedFiles;
}

/** Holds of files with something in them to remedy; of so many that change, at least. */
function overFiles(least: number, holds: (mended: Mended) => void): void {
  let count = 0;
  assertLaw(
    400,
    fc.property(arbitraryBaseToMend, fc.nat(), (texts, pick) => {
      const before = checkFresh(texts);
      const troubled = foundIn(before).filter(({ fixes }) => fixes.length > 0);
      const path = troubled[pick % Math.max(troubled.length, 1)]?.file ?? pathIn(texts, pick);
      if (path === undefined) return;
      const mended = textsAfterFixAll(before, path);
      if (mended[path] !== texts[path]) count++;
      holds({ path, before, after: checkFresh(mended) });
    }),
  );
  expectOften(count, least);
}

it('what is mended at once adds no finding', () => {
  overFiles(100, ({ before, after }) => {
    const left = foundIn(before).map(nameOfFinding);
    for (const name of foundIn(after).map(nameOfFinding)) {
      expect(left).toContain(name);
      left.splice(left.indexOf(name), 1);
    }
    // Whatever changes, something is mended by it.
    expect(left.length > 0).toBe(!isSame(before, after));
  });
});

it('mending twice is mending once', () => {
  overFiles(100, ({ path, after }) => {
    expect(textsAfterFixAll(after, path)).toEqual(after.texts);
  });
});

it('a file that any fix could mend is mended', () => {
  overFiles(100, ({ path, before, after }) => {
    const sure = foundIn(before)
      .flatMap(({ fixes }) => fixes)
      .filter((fix) => fix.file === path && weighed(fix, before).kind === 'fix');
    expect(!isSame(before, after), sure.map(({ title }) => title).join()).toBe(sure.length > 0);
  });
});

it('what has to be asked for is left alone', () => {
  overFiles(100, ({ path, before, after }) => {
    const { snapshot, today } = before.run;
    const mendedWith = (checks: readonly Check[]): unknown =>
      textsAfterFixAll({ ...before, run: drained(runChecks(snapshot, { today, checks })) }, path);
    expect(mendedWith(onlyAsking)).toEqual(before.texts);
    expect(mendedWith(neverAsking)).toEqual(after.texts);
  });
});

const onlyAsking = checks.map((check) => offering(check, 'ask'));
const neverAsking = checks.map((check) => offering(check, 'fix'));

/** A check that finds the same and offers remedies of one kind. */
function offering(check: Check, kind: 'fix' | 'ask'): Check {
  if (check.scope === 'run') return check;
  const run = function* (...subject: unknown[]): Generator<Draft | undefined> {
    for (const draft of (check.run as (...all: unknown[]) => Iterable<Draft | undefined>)(...subject)) {
      yield draft && { ...draft, fixes: draft.fixes?.filter((fix) => fix.kind === kind) };
    }
  };
  return { ...check, run } as Check;
}

function isSame(a: CheckedFiles, b: CheckedFiles): boolean {
  return Object.entries(a.texts).every(([path, text]) => b.texts[path] === text);
}
