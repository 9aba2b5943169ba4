import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Fix } from '../../server/src/core/checks/fix.ts';
import type { ResolvedFinding } from '../../server/src/core/checks/resolve-findings.ts';
import { arbitraryBaseToMend } from '../harness/arbitrary-sequence.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import {
  type CheckedFiles,
  checkFresh,
  foundIn,
  nameOfFinding,
  type TextFiles,
  tapeOf,
  textsAfterFix,
  weighed,
} from '../harness/checked-files.ts';

/** A remedy that can be made: what it is for, whether it is sure, and the texts after it. */
interface Mended {
  readonly finding: ResolvedFinding;
  readonly title: string;
  readonly kind: 'fix' | 'ask';
  /** Files it may change. */
  readonly files: readonly string[];
  readonly before: CheckedFiles;
  readonly after: TextFiles;
}

function filesOf({ file, intents, others = [] }: Fix): readonly string[] {
  return [...(intents.length > 0 ? [file] : []), ...others.map((other) => other.file)].sort();
}

/** Some remedies of a base that can be made. */
function remediesOf(texts: TextFiles, pick: number): readonly Mended[] {
  const before = checkFresh(texts);
  const offered = foundIn(before).flatMap((finding) => finding.fixes.map((fix) => ({ finding, fix })));
  const first = pick % Math.max(offered.length, 1);
  return offered.slice(first, first + 3).flatMap(({ finding, fix }) => {
    const after = textsAfterFix(fix, before);
    return after
      ? [{ finding, title: fix.title, kind: weighed(fix, before).kind, files: filesOf(fix), before, after }]
      : [];
  });
}

/** Holds of so many remedies of a kind, at least; both as each property is tried on the same bases. */
function overRemedies(least: number, kind: Mended['kind'] | 'any', holds: (mended: Mended) => void): void {
  let count = 0;
  assertLaw(
    500,
    fc.property(arbitraryBaseToMend, fc.nat(), (texts, pick) => {
      for (const mended of remediesOf(texts, pick)) {
        if (kind !== 'any' && mended.kind !== kind) continue;
        count++;
        holds(mended);
      }
    }),
  );
  expectOften(count, least);
}

/** How often each thing is said. */
function counted(names: readonly string[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return counts;
}

it('a fix removes its finding and adds none', () => {
  overRemedies(100, 'fix', ({ finding, title, before, after }) => {
    const were = counted(foundIn(before).map(nameOfFinding));
    const are = counted(foundIn(checkFresh(after)).map(nameOfFinding));
    for (const [name, count] of are) expect(count, `${title}: ${name}`).toBeLessThanOrEqual(were.get(name) ?? 0);
    const own = nameOfFinding(finding);
    expect(are.get(own) ?? 0, `${title}: ${own}`).toBeLessThan(were.get(own) ?? 0);
  });
});

it('what is asked for removes its finding', () => {
  overRemedies(100, 'ask', ({ finding, title, before, after }) => {
    const own = nameOfFinding(finding);
    const count = (files: CheckedFiles): number => counted(foundIn(files).map(nameOfFinding)).get(own) ?? 0;
    expect(count(checkFresh(after)), `${title}: ${own}`).toBeLessThan(count(before));
  });
});

it('a remedy breaks no document and changes its file or captures that are named there', () => {
  overRemedies(300, 'any', ({ finding, files, before, after }) => {
    const differing = Object.keys(after).filter((path) => after[path] !== before.texts[path]);
    expect(differing.sort()).toEqual(files);
    const shapes = [before.texts, after].map((texts) =>
      tapeOf(texts[finding.file]!).documents.map(({ isBroken }) => isBroken),
    );
    expect(shapes[1]).toEqual(shapes[0]);
  });
});
