import { expect, it } from 'vitest';
import { checks } from '../../server/src/core/checks/registry.ts';
import { folderOf, runCommand, runInside, swaplore } from '../harness/run-cli.ts';

it('explains a check with an example', () => {
  expect(swaplore({}, ['check-id', 'duplicate-id'])).toMatchInlineSnapshot(`
    "duplicate-id (error)
      References cannot tell the two apart. The first by path stands and the other
      counts nowhere, so a swap may be credited to the wrong drive.

    Example: Two makers of one id; the first by path stands.

      makers/a.yaml
        kind: maker
        id: wren
        name: Wren

      makers/b.yaml
        kind: maker
        id: wren
        #   ^^^^ duplicate-id: Maker id \`wren\` is already taken; each maker needs its own id.
        name: Wren Storage
    exit 0"
  `);
});

it('gives the same as data', () => {
  const { stdout, stderr, code } = runCommand(folderOf({}), ['check-id', 'outcome-breaks-rule', '--json']);
  const check = checks.find((candidate) => candidate.check === 'outcome-breaks-rule');
  expect(JSON.parse(stdout)).toEqual({
    check: 'outcome-breaks-rule',
    group: 'across',
    severity: 'error',
    alsoSeverity: 'warning',
    why: check?.why,
  });
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
});

it.each(checks.map(({ check }) => check))('explains %s in text that is safe to print', async (id) => {
  const { stdout, stderr, code } = await runInside('/', ['check-id', id]);
  expect(stdout).toMatch(new RegExp(`^${id} \\(`));
  expect(stdout).not.toMatch(/[^\P{Cc}\n]/u);
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
});

it('cannot run for an id it does not know', () => {
  expect(swaplore({}, ['check-id', 'outcome-break-rule'])).toMatchInlineSnapshot(`
    "! swaplore: Check \`outcome-break-rule\` is not known; the nearest is \`outcome-breaks-rule\`.
    exit 2"
  `);
  expect(swaplore({}, ['check-id', 'zeppelin'])).toMatchInlineSnapshot(`
    "! swaplore: Check \`zeppelin\` is not known.
    exit 2"
  `);
});
