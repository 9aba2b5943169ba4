import { spawnSync } from 'node:child_process';
import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ciKits, usualKits } from '../../server/src/core/starting/ci-kits.ts';
import { npmWithin, packedCommand } from '../harness/packed-command.ts';
import { folderOf } from '../harness/run-cli.ts';
import { projectRoot } from '../harness/source-files.ts';

/**
 * The session of the README that leads from an empty folder to a base that is checked, run in one shell with the packed command.
 * `UPDATE_DOCS=1 npx vitest run test/docs` writes what the commands print now.
 */
const packed = packedCommand();
const session = /(?<=```console\n)\$ git init[\s\S]*?(?=```)/;
const day = /\d{4}-\d\d-\d\d/g;
/** The day of the session in the README; it is run today. */
const dayShown = '2026-11-26';

interface Step {
  /** As typed: lines that go on stand behind `> `. */
  readonly typed: string;
  readonly output: string;
}

const readme = readFileSync(`${projectRoot}README.md`, 'utf8');
const [shown = ''] = session.exec(readme) ?? [];
const steps: readonly Step[] = shown.split(/^(?=\$ )/m).map((text) => {
  const [typed = ''] = /^\$ .*\n(?:> .*\n)*/.exec(text) ?? [];
  return { typed, output: text.slice(typed.length) };
});

/** Runs all steps one after the other in a shell and gives each with what it printed, and its exit code. */
function run(folder: string): readonly (Step & { readonly code: number })[] {
  const mark = '--- step ended with';
  const script = steps.map(({ typed }) => `${typed.replace(/^[$>] /gm, '')}echo "${mark} $?"\n`).join('');
  const env = {
    ...npmWithin(folder),
    XDG_CACHE_HOME: join(folder, 'cache'),
    GIT_AUTHOR_NAME: 'Bench',
    GIT_AUTHOR_EMAIL: 'bench@example.org',
    GIT_COMMITTER_NAME: 'Bench',
    GIT_COMMITTER_EMAIL: 'bench@example.org',
    GIT_CONFIG_GLOBAL: '/dev/null',
  };
  const options = { cwd: folder, env, encoding: 'utf8', input: script, timeout: 120_000 } as const;
  const { stdout } = spawnSync('sh', ['-c', 'exec sh 2>&1'], options);
  const parts = [...stdout.matchAll(new RegExp(`([\\s\\S]*?)${mark} (\\d+)\\n`, 'g'))];
  return steps.map(({ typed }, at) => ({ typed, output: parts[at]?.[1] ?? '', code: Number(parts[at]?.[2]) }));
}

describe('from an empty folder to a base that is checked', () => {
  it('every step prints what the README says, and only the slip is refused', () => {
    const folder = folderOf({});
    copyFileSync(packed, join(folder, basename(packed)));
    const ran = run(folder);
    if (process.env['UPDATE_DOCS']) {
      const now = ran.map(({ typed, output }) => typed + output.replace(day, dayShown)).join('');
      writeFileSync(
        `${projectRoot}README.md`,
        readme.replace(session, () => now),
      );
      return;
    }
    expect(ran.map(({ typed, output }) => typed + output.replace(day, dayShown)).join('')).toBe(shown);
    expect(ran.filter(({ code }) => code !== 0).map(({ typed, code }) => [typed, code])).toEqual([
      ['$ sh ci/lint.sh main\n', 1],
    ]);
  });

  it('prints nothing wider than 80 columns', () => {
    for (const { output } of steps)
      for (const line of output.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
  });
});

it('the README lists every kit, with what it does, and says which is usual', () => {
  const flat = readme.replace(/\n {2}/g, ' ');
  for (const [id, { path, describe: does }] of Object.entries(ciKits)) {
    const usual = usualKits.some((kit) => kit === id) ? ' (unless something else is named)' : '';
    expect(flat).toContain(`\n- \`${id}\`${usual}, \`${path}\`: ${does}.\n`);
  }
});
