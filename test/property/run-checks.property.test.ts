import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import { defineCheck } from '../../server/src/core/checks/define-check.ts';
import { checks } from '../../server/src/core/checks/registry.ts';
import { runChecks } from '../../server/src/core/checks/run-checks.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { lintSnapshot } from '../harness/lint-files.ts';
import { configFileOf, snapshotOf } from '../harness/snapshot-of.ts';

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
    const ids = checks.flatMap(({ check, group }) => (group === 'file' || group === 'internal' ? [] : [check]));
    assertLaw(
      25,
      fc.property(arbitraryFaultyFiles, (files) => {
        const snapshot = snapshotOf(files);
        const findings = lintSnapshot(snapshot, files);
        for (const id of ids) {
          const config = `${files[configPath]}severity: {${id}: off}\n`;
          const quiet = lintSnapshot(snapshot.withConfig(configFileOf(config)), { ...files, [configPath]: config });
          expect(quiet, id).toEqual(findings.filter(({ check }) => check !== id));
        }
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
    const run = runChecks(snapshotOf({}), 0, [flood]);
    let step = run.next();
    while (!step.done) step = run.next();
    expect(step.value).toHaveLength(count);
  });
});
