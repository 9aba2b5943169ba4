import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import { defineCheck } from '../../server/src/core/checks/define-check.ts';
import type { Finding } from '../../server/src/core/checks/finding.ts';
import { keepRecords, restoreRecords } from '../../server/src/core/checks/kept-records.ts';
import { checks } from '../../server/src/core/checks/registry.ts';
import { type CheckedBase, findingsOf, judgedAnew, runChecks } from '../../server/src/core/checks/run-checks.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { arbitraryBase } from '../harness/arbitrary-base.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { arbitraryFileWalk, arbitraryRecordWalk, editedPaths, withoutConfig } from '../harness/arbitrary-walk.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { drained } from '../harness/drained.ts';
import { lintSnapshot } from '../harness/lint-files.ts';
import { configFileOf, fileOf, snapshotOf } from '../harness/snapshot-of.ts';
import { arbitraryLayout, writeFiles } from '../harness/write-files.ts';

describe('run of the checks', () => {
  it('shuffled files give the same findings', () => {
    const shuffled = arbitraryFaultyFiles.chain((files) => {
      const entries = Object.entries(files);
      const every = { minLength: entries.length, maxLength: entries.length };
      return fc.tuple(fc.constant(files), fc.shuffledSubarray(entries, every).map(Object.fromEntries<string>));
    });
    assertLaw(
      60,
      fc.property(shuffled, ([files, again]) => {
        expect(lintSnapshot(snapshotOf(again), files)).toEqual(lintSnapshot(snapshotOf(files), files));
      }),
    );
  });

  it('a check switched off changes no other finding', () => {
    const isFixed = new Map<string, boolean>(
      checks.map(({ check, group }) => [check, group === 'file' || group === 'internal']),
    );
    assertLaw(
      60,
      fc.property(arbitraryFaultyFiles, fc.nat(), (files, pick) => {
        const snapshot = snapshotOf(files);
        const findings = lintSnapshot(snapshot, files);
        const found = [...new Set(findings.map(({ check }) => check))].filter((check) => !isFixed.get(check));
        fc.pre(found.length > 0);
        const off = found[pick % found.length];
        const config = `${files[configPath]}severity: {${off}: off}\n`;
        const quiet = lintSnapshot(snapshot.withConfig(configFileOf(config)), { ...files, [configPath]: config });
        expect(quiet, off).toEqual(findings.filter(({ check }) => check !== off));
      }),
    );
  });

  it('a run judged anew under other severities finds what a fresh one finds', () => {
    const severity = fc.constantFrom('off', 'off', 'info', 'error');
    const severitiesOf = fc.dictionary(fc.constantFrom(...checks.map(({ check }) => check)), severity, { maxKeys: 40 });
    const seen = { anew: 0, due: 0 };
    assertLaw(
      40,
      fc.property(arbitraryFaultyFiles, severitiesOf, severitiesOf, (files, first, second) => {
        const [one, other] = [first, second].map((severities) => {
          const config = `${files[configPath]}severity: ${JSON.stringify(severities)}\n`;
          return snapshotOf({ ...files, [configPath]: config });
        });
        const checked = drained(runChecks(one!, { today: 0 }));
        const anew = judgedAnew(checked, one!.withConfig(other!.configFile));
        if (!anew) seen.due++;
        else {
          seen.anew++;
          const fresh = drained(runChecks(other!, { today: 0 }));
          const inOrder = (run: CheckedBase): string[] =>
            findingsOf(run)
              .map((one) => JSON.stringify(one))
              .sort();
          // What is wrong with the settings themselves stands at another place in each.
          const rest = (findings: readonly string[]): readonly string[] =>
            findings.filter((one) => !one.includes(configPath));
          expect(rest(inOrder(anew))).toEqual(rest(inOrder(fresh)));
        }
      }),
    );
    expectOften(Math.min(seen.anew, seen.due), 3);
  });

  it('a drive that nothing refers to changes no finding', () => {
    assertLaw(
      60,
      fc.property(arbitraryFaultyFiles, (files) => {
        const file = fileOf('zz/apart.yaml', 'kind: drive\nid: zz-unheard-of-00\n');
        const more = { ...files, [file.path]: 'kind: drive\nid: zz-unheard-of-00\n' };
        const snapshot = snapshotOf(files);
        const again = lintSnapshot(snapshot.with([{ path: file.path, file }]), more);
        // A drive has to have a family, which is all that may be said of this one.
        expect(again.filter((finding) => finding.file !== file.path)).toEqual(lintSnapshot(snapshot, files));
      }),
    );
  });

  it('a run ends, however much one check finds', () => {
    const count = 200_000;
    const flood = defineCheck({
      ...{ check: 'flood', group: 'file', severity: 'info', scope: 'config', why: '', examples: () => [] },
      *run() {
        for (let start = 0; start < count; start++) yield { at: { file: configPath, start, end: start }, message: '' };
      },
    });
    expect(findingsOf(drained(runChecks(snapshotOf({}), { today: 0, checks: [flood] })))).toHaveLength(count);
  });

  it('a run that builds on an earlier one finds what a fresh one finds', () => {
    // 40 walks of 50 edits; with the second kind 2,000 edits of each.
    for (const arbitraryWalk of [arbitraryFileWalk, arbitraryRecordWalk]) {
      assertLaw(
        40,
        fc.property(arbitraryWalk({ minLength: 50, maxLength: 50 }), (walk) => {
          let snapshot = snapshotOf(walk[0]);
          let before = drained(runChecks(snapshot, { today }));
          for (const [step, texts] of walk.slice(1).entries()) {
            snapshot = snapshot.with(changesTo(texts, editedPaths(walk[step]!, texts)));
            before = drained(runChecks(snapshot, { today, before }));
            const fresh = drained(runChecks(snapshotOf(texts), { today }));
            expect(sorted(findingsOf(before)), `after edit ${step + 1}`).toEqual(sorted(findingsOf(fresh)));
            expect(pointed(before), `after edit ${step + 1}`).toEqual(pointed(fresh));
          }
        }),
      );
    }
  });

  it('a run that builds on what was kept of an earlier one finds what a fresh one finds', () => {
    let restored = 0;
    assertLaw(
      12,
      fc.property(arbitraryRecordWalk({ minLength: 12, maxLength: 12 }), (walk) => {
        for (const [step, texts] of walk.slice(1).entries()) {
          const earlier = snapshotOf(walk[step]!);
          const kept = JSON.stringify(keepRecords(drained(runChecks(earlier, { today }))));
          // Another process reads the files anew.
          const again = snapshotOf(walk[step]!);
          const before = restoreRecords(JSON.parse(kept), again, { today, checks });
          if (before && before.byRecord.size > 0) restored++;
          const now = again.with(changesTo(texts, editedPaths(walk[step]!, texts)));
          const fresh = drained(runChecks(snapshotOf(texts), { today }));
          expect(sorted(findingsOf(drained(runChecks(now, { today, before }))))).toEqual(sorted(findingsOf(fresh)));
        }
      }),
    );
    expectOften(restored, 20);
  });

  it('an edit of a note or a comment has no record checked again', () => {
    const comments = fc.array(fc.nat(), { minLength: 1, maxLength: 12 });
    assertLaw(
      30,
      fc.property(arbitraryBase, arbitraryLayout, comments, (base, layout, marks) => {
        const snapshot = snapshotOf(writeFiles(base, layout));
        const before = drained(runChecks(snapshot, { today }));
        const texts = writeFiles(base, { ...layout, comments: marks });
        const after = snapshot.with(changesTo(texts, Object.keys(withoutConfig(texts))));
        const again = drained(runChecks(after, { today, before }));
        expect(before.recordsChecked).toBeGreaterThan(0);
        expect(again.recordsChecked).toBe(0);
      }),
    );
  });
});

const today = parseDate('2026-11-25') ?? 0;

function changesTo(texts: Readonly<Record<string, string>>, paths: readonly string[]) {
  return paths.map((path) => {
    const text = texts[path];
    return { path, file: text === undefined ? undefined : fileOf(path, text) };
  });
}

/** How much was raised that points into each file, and is shown in it. */
function pointed({ pointers, findings }: CheckedBase): readonly string[] {
  const files = Array.from(pointers.keys()).sort();
  return files.map((file) => `${file} ${pointers.get(file)?.length} ${findings.get(file)?.length}`);
}

/** Findings in one order whatever order they came in. */
function sorted(findings: readonly Finding[]): string[] {
  return findings.map((finding) => JSON.stringify(finding)).sort();
}
