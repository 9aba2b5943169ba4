import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import { defineCheck } from '../../server/src/core/checks/define-check.ts';
import { checks } from '../../server/src/core/checks/registry.ts';
import { runChecks } from '../../server/src/core/checks/run-checks.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { lintSnapshot } from '../harness/lint-files.ts';
import { configFileOf, fileOf, snapshotOf } from '../harness/snapshot-of.ts';

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
    const run = runChecks(snapshotOf({}), 0, [flood]);
    let step = run.next();
    while (!step.done) step = run.next();
    expect(step.value).toHaveLength(count);
  });
});
