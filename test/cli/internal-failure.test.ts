import { describe, expect, it, vi } from 'vitest';
import { folderOf, runInside, transcript } from '../harness/run-cli.ts';
import { ternBench } from '../harness/tern-bench.ts';

vi.mock(import('../../server/src/core/conditions/describe.ts'), async (original) => ({
  ...(await original()),
  describeFormula: () => {
    throw new Error('the belt slipped');
  },
}));

const files = { ...ternBench, 'outcomes/moved.yaml': ternBench['outcomes/moved.yaml'].replace('chip_moved', 'left') };

describe('a check that crashes', () => {
  it('is a finding of lint, which ends with exit code 3', async () => {
    const folder = folderOf({ ...files, 'drives/new.yaml': 'kind: drive\nid: d-0119\nfamily: tern-3\n' });
    expect(transcript(await runInside(folder, ['lint']))).toMatchInlineSnapshot(`
      "drives/new.yaml:3:9  error  dangling-reference
        Family \`tern-3\` is not recorded in this base; the nearest is \`tern-2\`.
          Use \`tern-2\`, or record the family.

      swaplore.yaml:1:1  error  internal-check-failed
        Check \`outcome-breaks-rule\` failed here: the belt slipped.
          Report this together with the file; the other checks still ran.

      Harbour Street bench: 2 errors, 0 warnings, 0 notes (7 files, 7 records)
      exit 3"
    `);
  });

  it('ends contradictions with exit code 3', async () => {
    const { stdout, code } = await runInside(folderOf(files), ['contradictions']);
    expect(stdout).toContain('Check `outcome-breaks-rule` failed here: the belt slipped.');
    expect(code).toBe(3);
  });
});

it('a crash outside the checks ends with exit code 3 and a short report', async () => {
  const out = (): void => {
    throw new Error('the screen caught fire');
  };
  const { stderr, code } = await runInside(folderOf(ternBench), ['lint'], { out });
  expect(code).toBe(3);
  expect(stderr).toMatch(
    /^swaplore 0\.0\.0 failed\. This is a fault of the program, not of the files:\nError: the screen caught fire\n {4}at /,
  );
});

it('is told from a fault of the one who typed', async () => {
  const { stderr, code } = await runInside(folderOf({}), ['lint']);
  expect(code).toBe(2);
  expect(stderr).not.toContain('failed');
});
