import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { type CiKitId, ciKits } from '../../server/src/core/starting/ci-kits.ts';
import { npmWithin, packedCommand } from '../harness/packed-command.ts';
import { folderOf, type Run, runCommand } from '../harness/run-cli.ts';
import { projectRoot } from '../harness/source-files.ts';
import { lacks } from '../lsp/harness/lacks.ts';

/**
 * Every kit runs here with the packed command and without a registry, as near to its system as this machine comes. GitHub's hosted
 * actions do not run: of its workflows the commands do.
 */
const packed = packedCommand();
const shellcheck = '/usr/bin/shellcheck';
const preCommit = '/usr/bin/pre-commit';
const rsync = '/usr/bin/rsync';
const gitlabReader = join(projectRoot, 'test/cli/gitlab/node_modules/gitlab-ci-local/dist/index.js');

const outcome = 'outcomes/2026-11-25-ravelin-1-2.yaml';

class Repository {
  readonly folder: string;
  readonly #env: Readonly<Record<string, string>>;

  /** A repository with a new base, this kit and the tarball, committed on `main`. */
  constructor(kit: CiKitId) {
    const around = folderOf({});
    this.folder = join(around, 'bench');
    this.#env = {
      ...npmWithin(around),
      PRE_COMMIT_HOME: join(around, 'pre-commit'),
      XDG_CACHE_HOME: join(around, 'cache'),
      GIT_CONFIG_GLOBAL: join(around, 'gitconfig'),
    };
    writeFileSync(
      join(around, 'gitconfig'),
      '[user]\nname = Bench\nemail = bench@example.org\n[init]\ndefaultBranch = main\n',
    );
    expect(runCommand(around, ['init', 'bench', '--ci', kit, '--today', '2026-11-25']).code).toBe(0);
    mkdirSync(join(this.folder, 'tools'));
    copyFileSync(packed, join(this.folder, 'tools/swaplore.tgz'));
    this.run('git', ['init', '--quiet']);
    this.commit();
  }

  commit(): Run {
    this.run('git', ['add', '.']);
    return this.run('git', ['commit', '--quiet', '--message', 'Record'], { GIT_COMMITTER_DATE: '2026-11-25T12:00:00' });
  }

  /** Has the example's outcome name a donor that nobody recorded. */
  break(): void {
    writeFileSync(join(this.folder, outcome), this.read(outcome).replace('d-0002', 'd-0020'));
  }

  run(program: string, args: readonly string[], env: Readonly<Record<string, string>> = {}): Run {
    const { stdout, stderr, status, error } = spawnSync(program, args, {
      cwd: this.folder,
      env: { ...this.#env, ...env },
      encoding: 'utf8',
      timeout: 60_000,
    });
    if (error) throw error;
    return { stdout, stderr, code: status ?? undefined };
  }

  read(path: string): string {
    return readFileSync(join(this.folder, path), 'utf8');
  }
}

const broken = /Drive `d-0020` is not recorded/;

describe('the script', () => {
  const { path } = ciKits.shell;

  it('lints, and reviews what was changed', () => {
    const repository = new Repository('shell');
    const good = repository.run('sh', [path]);
    expect([good.code, good.stderr]).toEqual([0, '']);
    expect(good.stdout).toMatch(/^bench: nothing found.*\n$/);
    repository.break();
    const bad = repository.run('sh', [path, 'main']);
    expect(bad.code).toBe(1);
    expect(bad.stdout).toMatch(broken);
    expect(bad.stdout).toContain('New findings');
    const lost = repository.run('sh', [path, 'nowhere']);
    expect(lost.code).toBe(2);
    expect(lost.stderr).toContain('nowhere');
  });

  it.skipIf(lacks(shellcheck))('has nothing that shellcheck remarks upon', () => {
    const { stdout, code } = new Repository('shell').run(shellcheck, ['--shell=sh', path]);
    expect([stdout, code]).toEqual(['', 0]);
  });
});

describe.skipIf(lacks(preCommit))('the hook of pre-commit', () => {
  it('is valid, runs what the guide names, and keeps a broken base from being committed', () => {
    const repository = new Repository('pre-commit');
    const [{ hooks }] = parse(repository.read(ciKits['pre-commit'].path)).repos;
    expect(repository.read('README.md')).toContain(`\`\`\`sh\n${hooks[0].entry}\n\`\`\``);
    expect(repository.run(preCommit, ['validate-config', ciKits['pre-commit'].path]).code).toBe(0);
    expect(repository.run(preCommit, ['install']).code).toBe(0);
    writeFileSync(join(repository.folder, 'notes.txt'), 'Quiet.');
    expect(repository.commit().code).toBe(0);
    repository.break();
    const refused = repository.commit();
    expect(refused.code).toBe(1);
    expect(refused.stderr).toMatch(broken);
  });
});

describe.skipIf(lacks(gitlabReader) || lacks(rsync))('the pipeline for GitLab', () => {
  const { path } = ciKits.gitlab;
  // One after the other: on this machine both install into one folder, where GitLab gives each job a container.
  const onMachine = ['--force-shell-executor', '--concurrency', '1', '--no-color'];
  const forMerge = ['CI_PIPELINE_SOURCE=merge_request_event', 'CI_MERGE_REQUEST_DIFF_BASE_SHA=main'].flatMap(
    (variable) => ['--variable', variable],
  );

  function pipeline(repository: Repository, args: readonly string[]): Run {
    return repository.run(process.execPath, [gitlabReader, ...args]);
  }

  it('has the jobs that a push and a merge request need, as the schema of pipelines allows', () => {
    const repository = new Repository('gitlab');
    expect(pipeline(repository, ['--list-csv']).stdout).not.toMatch(/^review;/m);
    expect(pipeline(repository, ['--list-csv', ...forMerge]).stdout).toMatch(/^lint;.*\n(.*\n)*review;/m);
    writeFileSync(join(repository.folder, path), repository.read(path).replace('codequality:', 'code_quality:'));
    expect(pipeline(repository, ['--list-csv']).code).toBe(1);
  });

  it('fails where a change breaks the base, with a report and a review', () => {
    const repository = new Repository('gitlab');
    expect(pipeline(repository, ['lint', ...onMachine]).code).toBe(0);
    repository.run('git', ['switch', '--quiet', '--create', 'change']);
    repository.break();
    repository.commit();
    const { code, stdout } = pipeline(repository, ['lint', 'review', ...forMerge, ...onMachine]);
    expect(code).toBe(1);
    expect(stdout).toMatch(/^lint .*Drive `d-0020` is not recorded/m);
    expect(stdout).toMatch(/^review .*Drive `d-0020` is not recorded/m);
    const [reported] = JSON.parse(repository.read('swaplore.json'));
    expect(reported.check_name).toBe('dangling-reference');
  });
});

describe('the workflows for GitHub', () => {
  interface Step {
    readonly name?: string;
    readonly run?: string;
  }

  function commands(repository: Repository, kit: CiKitId): ReadonlyMap<string, string> {
    const [job] = Object.values<{ steps: readonly Step[] }>(parse(repository.read(ciKits[kit].path)).jobs);
    return new Map(job?.steps.flatMap(({ name, run }) => (name && run ? [[name, run] as const] : [])));
  }

  /** As GitHub runs them: `bash -e`. */
  function step(repository: Repository, run: string | undefined, env: Readonly<Record<string, string>> = {}): Run {
    const summary = join(repository.folder, '../summary.md');
    const github = { SWAPLORE: './tools/swaplore.tgz', GITHUB_BASE_REF: 'main', GITHUB_STEP_SUMMARY: summary };
    return repository.run('bash', ['-e', '-c', run ?? 'false'], { ...github, ...env });
  }

  it('lint on the day of the commit, and review what a pull request changes', () => {
    const repository = new Repository('github');
    repository.run('git', ['update-ref', 'refs/remotes/origin/main', 'main']);
    const steps = commands(repository, 'github');
    expect([...steps.keys()]).toEqual(['Install Swaplore', 'Lint', 'Review']);
    expect(step(repository, steps.get('Install Swaplore')).code).toBe(0);
    expect(step(repository, steps.get('Lint')).stdout).toBe('0 errors, 0 warnings, 0 notes\n');
    repository.break();
    repository.commit();
    const linted = step(repository, steps.get('Lint'));
    expect(linted.code).toBe(1);
    expect(linted.stdout).toContain(`::error file=${outcome},line=`);
    expect(step(repository, steps.get('Review')).code).toBe(1);
    expect(repository.read('../summary.md')).toMatch(broken);
  });

  it('hand errors on to code scanning without failing', () => {
    const repository = new Repository('github-sarif');
    repository.break();
    const steps = commands(repository, 'github-sarif');
    expect(step(repository, steps.get('Install Swaplore')).code).toBe(0);
    expect(step(repository, steps.get('Lint')).code).toBe(0);
    expect(JSON.parse(repository.read('swaplore.sarif')).version).toBe('2.1.0');
    rmSync(join(repository.folder, 'swaplore.yaml'));
    expect(step(repository, steps.get('Lint')).code).not.toBe(0);
  });
});
