import { createHash } from 'node:crypto';
import {
  chmodSync,
  chownSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Commit, emptyFolder, git, repositoryOf } from '../harness/git-repository.ts';
import { newsIn, review } from '../harness/review-run.ts';
import { folderOf, runCommand, runInside, transcript } from '../harness/run-cli.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';

const inside = (folder: string, files: Readonly<Record<string, string>>) =>
  Object.fromEntries(Object.entries(files).map(([path, text]) => [`${folder}/${path}`, text]));

/** A repository whose first commit is the bench and whose second adds an outcome that breaks the rule. */
const twoCommits = [
  { on: 'main', puts: inside('kb', ternBench) },
  { on: 'main', puts: { 'kb/outcomes/left.yaml': outcome('left', 'left') } },
];
const news = [
  'added outcome/left',
  'verdict left: undefined → "works"',
  'new error outcome-breaks-rule outcome/left',
  'rule tern-rom-travels: 1:0 → 1:1',
  'exit 1',
];

async function newsOf(folder: string, ...args: string[]): Promise<readonly string[]> {
  return newsIn(await review(folder, '--json', ...args));
}

/** What a run says that could not do its work. */
async function refusal(folder: string, ...args: string[]): Promise<string> {
  const run = await review(folder, ...args);
  expect([run.code, run.stdout]).toEqual([2, '']);
  return run.stderr.replaceAll(folder, 'FOLDER');
}

describe('what is printed', () => {
  it('is text, with files as seen from the working folder', () => {
    const folder = repositoryOf(twoCommits);
    expect(transcript(runCommand(folder, ['review', '--base', 'c1', '--today', '2026-04-01']))).toMatchInlineSnapshot(`
      "Review: the files on the disk against c1
      ========================================

      The change adds 1 outcome. Rule \`tern-rom-travels\` is broken now. The odds of
      \`tern-2\` differ.

      Findings: 1 error is new.

      New findings

      error: outcome/left (kb/outcomes/left.yaml)
        Outcome \`left\` reached \`reads\`, but rule \`tern-rom-travels\` says that needs
        \`rom_travels: true\`: the ROM was \`left\` (this family keeps its adaptives in
        \`rom_chip\`).
        Check the bench notes; correct the record, or give the rule an exception with
        its reason.

      Outcomes

      outcome  before     now    at other stages
      left     not there  works

      Rules

      \`tern-rom-travels\`
        It is broken: an outcome is against it.
        Outcomes: support 1, against 0 → 1.
        Newly against it: \`left\`.

      Odds

      family  ROM                    before                   now
      tern-2  without every control  1 worked, 0              2 worked, 0 inconclusive
                                     inconclusive

      Added records

      \`outcome/left\`
        d-0117 with the board of d-0118, reads, works
      exit 1"
    `);
  });

  it('names every file as seen from the working folder', async () => {
    const folder = repositoryOf([
      ...twoCommits,
      {
        on: 'topic',
        from: 'main',
        puts: { 'kb/drives/a.yaml': 'kind: drive\nid: d-1\n', 'kb/outcomes/left.yaml': null },
      },
      { on: 'main', puts: { 'kb/drives/b.yaml': 'kind: drive\nid: d-1\n' } },
    ]);
    const { stdout } = await review(folder, '--base', 'main', '--head', 'topic', '--format', 'markdown');
    const named = stdout.match(/(?:\w+\/)*\w+\.yaml/g) ?? [];
    expect([...new Set(named)].sort()).toEqual(['kb/drives/a.yaml', 'kb/drives/b.yaml', 'kb/outcomes/left.yaml']);
  });

  it('may be Markdown, for a comment or a summary', async () => {
    const { stdout, code } = await review(
      repositoryOf(twoCommits),
      '--base',
      'c1',
      '--head',
      'c2',
      '--format',
      'markdown',
    );
    expect(stdout).toMatch(/^## Review.*c2.*c1\n/);
    expect(stdout).toContain('- **error** `outcome/left` (`kb/outcomes/left.yaml`)');
    expect(code).toBe(1);
  });

  it('may be data, with places in the file', async () => {
    const folder = repositoryOf(twoCommits);
    mkdirSync(join(folder, 'kb', 'x'));
    for (const [at, file] of [
      ['', 'kb/outcomes/left.yaml'],
      ['kb', 'outcomes/left.yaml'],
      ['kb/x', '../outcomes/left.yaml'],
    ] as const) {
      for (const more of [[], ['--head', 'main']]) {
        const { findings, records } = JSON.parse(
          (await review(join(folder, at), '--base', 'c1', '--json', ...more)).stdout,
        );
        expect(findings.new).toEqual([
          expect.objectContaining({
            file,
            range: { start: { line: 6, character: 9 }, end: { line: 6, character: 14 } },
          }),
        ]);
        expect(findings.new[0].related[0].file).toBe(file.replace('outcomes/left', 'rules/tern'));
        expect(records.added).toEqual([{ record: 'outcome/left', file }]);
      }
    }
  });

  it('is refused where two forms are asked for, or one that is not known', async () => {
    const folder = repositoryOf(twoCommits);
    expect(await refusal(folder, '--base', 'c1', '--json', '--format', 'text')).toBe(
      'swaplore: --json and --format text ask for different things.\n',
    );
    expect(await refusal(folder, '--base', 'c1', '--format', 'sarif')).toBe(
      'swaplore: Format `sarif` is not known.\nUse one of text, markdown, json.\n',
    );
  });
});

describe('revisions', () => {
  it('are refused where they cannot be had', async () => {
    const folder = repositoryOf([...twoCommits, { on: 'main', puts: { 'kb/swaplore.yaml': 'swaplore: many\n' } }]);
    const said: string[] = [];
    for (const args of [
      [],
      ['--base', ''],
      ['--base=-n'],
      ['--base=--output=x'],
      ['--base', 'nowhere'],
      ['--base', 'c1..c2'],
      ['--base', 'c1:kb/swaplore.yaml'],
      ['--base', 'c1:kb'],
      ['--base', 'c1', '--head', 'no\nwhere'],
      ['--base', 'c2', '--head', 'c3'],
      ['--base', 'c2'],
      ['--base', 'c2', '--head', 'c2', '--folder', '..'],
    ]) {
      said.push(`${args.join(' ')}\n${await refusal(folder, ...args)}`);
    }
    expect(said.join('\n').replaceAll(join(folder, '..'), 'ABOVE')).toMatchInlineSnapshot(`
      "
      swaplore: review needs --base REV.
      Name the revision to compare with, such as the branch that the change is for: --base origin/main.

      --base 
      swaplore: review needs --base REV.
      Name the revision to compare with, such as the branch that the change is for: --base origin/main.

      --base=-n
      swaplore: \`-n\` cannot be a revision: it begins with a hyphen.

      --base=--output=x
      swaplore: \`--output=x\` cannot be a revision: it begins with a hyphen.

      --base nowhere
      swaplore: There is no revision \`nowhere\`.
      Name a branch, a tag or a commit of this repository; what was never fetched is not in it.

      --base c1..c2
      swaplore: There is no revision \`c1..c2\`.
      Name a branch, a tag or a commit of this repository; what was never fetched is not in it.

      --base c1:kb/swaplore.yaml
      swaplore: \`c1:kb/swaplore.yaml\` names a file, not a revision.
      Name a branch, a tag or a commit.

      --base c1:kb
      swaplore: \`c1:kb\` names a folder, not a revision.
      Name a branch, a tag or a commit.

      --base c1 --head no
      where
      swaplore: There is no revision \`no\\u000awhere\`.
      Name a branch, a tag or a commit of this repository; what was never fetched is not in it.

      --base c2 --head c3
      swaplore: The base in \`c3\` has a config that cannot be used.
      swaplore lint says why.

      --base c2
      swaplore: The base kb has a config that cannot be used.
      swaplore lint says why.

      --base c2 --head c2 --folder ..
      swaplore: ABOVE lies in no git repository.
      "
    `);
    // The config of the earlier side costs no more than what it holds.
    expect(await newsOf(folder, '--base', 'c3', '--head', 'c2')).toMatchInlineSnapshot(`
      [
        "remark: The config of \`c3\` cannot be used, so that nothing is said of what a merge would bring.",
      ]
    `);
  });

  it('are refused without a repository, and without git', async () => {
    const folder = folderOf(ternBench);
    expect(await refusal(folder, '--base', 'main')).toBe('swaplore: FOLDER lies in no git repository.\n');
    const run = await runInside(
      folder,
      ['review', '--base', 'main'],
      {},
      { version: '0.0.0', findGit: () => undefined },
    );
    expect(transcript(run)).toBe(
      '! swaplore: The program git is not installed, or not where programs are looked for.\nexit 2',
    );
  });

  it('are read in a bare repository, where a head has to be named', async () => {
    const bare = join(emptyFolder(), 'bare.git');
    git('/', 'clone', '--quiet', '--bare', repositoryOf(twoCommits), bare);
    expect(await newsOf(bare, '--base', 'c1', '--head', 'c2')).toEqual(news);
    expect(await newsOf(bare, '--base', 'c1', '--head', 'c2', '--folder', 'kb/outcomes')).toEqual(news);
    expect(await refusal(bare, '--base', 'c1')).toBe(
      'swaplore: Here the repository has no files that could be compared.\nName the revision to judge with --head.\n',
    );
  });

  it('are read in a second tree of files', async () => {
    const folder = repositoryOf(twoCommits);
    const tree = join(emptyFolder(), 'tree');
    git(folder, 'worktree', 'add', '--quiet', '--detach', tree, 'c2');
    expect(await newsOf(tree, '--base', 'c1')).toEqual(news);
  });

  it('are compared as they are where a shallow clone does not know where they parted', async () => {
    const folder = repositoryOf([
      ...twoCommits,
      { on: 'topic', from: 'main', puts: { 'kb/makers/mew.yaml': 'kind: maker\nid: mew\nname: Mew\n' } },
      { on: 'main', puts: { 'kb/makers/tit.yaml': 'kind: maker\nid: tit\nname: Tit\n' } },
    ]);
    const clone = join(emptyFolder(), 'clone');
    git('/', 'clone', '--quiet', '--depth=1', '--no-single-branch', '--no-tags', `file://${folder}`, clone);
    expect(await newsOf(clone, '--base', 'origin/main', '--head', 'origin/topic')).toMatchInlineSnapshot(`
      [
        "remark: \`origin/main\` and \`origin/topic\` are compared as they are: this clone is shallow and does not reach back to where they parted. What \`origin/main\` alone has changed is shown the other way round.",
        "added maker/mew",
        "removed maker/tit (gone)",
      ]
    `);
    expect(await newsOf(folder, '--base', 'main', '--head', 'topic')).toEqual(['added maker/mew']);
    expect(await refusal(clone, '--base', 'c1')).toMatchInlineSnapshot(`
      "swaplore: There is no revision \`c1\`.
      This clone is shallow, so that most revisions are not in it; fetch the one that is wanted first.
      "
    `);
  });

  it('are refused where a clone leaves contents out that are needed', async () => {
    const folder = repositoryOf(twoCommits);
    git(folder, 'config', 'uploadpack.allowFilter', 'true');
    const clone = join(emptyFolder(), 'clone');
    git('/', 'clone', '--quiet', '--filter=blob:none', `file://${folder}`, clone);
    // What was checked out is there.
    expect(await newsOf(clone, '--base', 'c1')).toEqual(news);
    git('/', 'clone', '--quiet', '--no-checkout', '--filter=blob:none', `file://${folder}`, `${clone}-2`);
    writeFileSync(join(`${clone}-2`, 'x'), '');
    expect(await refusal(`${clone}-2`, '--base', 'c1', '--head', 'c2')).toMatchInlineSnapshot(`
      "swaplore: 1 file of the revisions is not in this clone, such as \`swaplore.yaml\`.
      It was cloned without all contents; have git fetch the missing ones first, for instance by checking both revisions out.
      "
    `);
  });
});

describe('bases', () => {
  it('may have moved, be new or be gone', async () => {
    const folder = repositoryOf([
      { on: 'main', puts: { 'README.md': 'Ours.\n' } },
      {
        on: 'main',
        puts: inside('old', { 'swaplore.yaml': 'swaplore: 1\n', 'a.yaml': 'kind: maker\nid: wren\nname: Wren\n' }),
      },
    ]);
    renameSync(join(folder, 'old'), join(folder, 'new'));
    expect(await newsOf(folder, '--base', 'c2')).toEqual(['remark: The base lay in `old` and lies in `new` now.']);
    expect(await newsOf(join(folder, 'new'), '--base', 'c1')).toEqual([
      'remark: `c1` has no base in `new`, so that all records count as added.',
      'added maker/wren',
    ]);
    rmSync(join(folder, 'new'), { recursive: true });
    expect(await newsOf(folder, '--base', 'c2')).toEqual([
      'remark: The base in `old` is not on the disk any more, so that all records count as removed.',
      'removed maker/wren (gone)',
    ]);
    expect(await newsOf(folder, '--base', 'c2', '--folder', 'old')).toHaveLength(2);
    expect(await refusal(folder, '--base', 'c1')).toMatchInlineSnapshot(`
      "swaplore: Neither revision has a swaplore.yaml in, above or below the top of the repository.
      A base is the folder that holds a swaplore.yaml with the line "swaplore: 1".
      "
    `);
  });

  it('are chosen by --folder where there are several', async () => {
    const folder = repositoryOf([
      { on: 'main', puts: { ...inside('a', ternBench), ...inside('b', ternBench) } },
      { on: 'main', puts: { 'a/outcomes/left.yaml': outcome('left', 'left') } },
    ]);
    const base = ['--base', 'c1'];
    const head = ['--head', 'c2'];
    expect(await newsOf(folder, ...base, ...head, '--folder', 'a')).toEqual(news);
    expect(await newsOf(folder, ...base, '--folder', 'b')).toEqual([]);
    expect(await refusal(folder, ...base)).toBe(
      'swaplore: There are several bases here: a, b.\nName one with --folder.\n',
    );
    expect(await refusal(folder, ...base, ...head)).toBe(
      'swaplore: There are several bases in `c2`: `a`, `b`.\nName one with --folder.\n',
    );
  });

  it('may hold submodules, of which nothing is compared', async () => {
    const lib = repositoryOf([{ on: 'main', puts: { 'a.yaml': 'kind: maker\nid: wren-2\nname: Wren\n' } }]);
    const folder = repositoryOf([{ on: 'main', puts: ternBench }]);
    git(folder, '-c', 'protocol.file.allow=always', 'submodule', '--quiet', 'add', lib, 'lib');
    git(folder, '-c', 'user.name=a', '-c', 'user.email=a@example.org', 'commit', '--quiet', '-m', 'x');
    expect(existsSync(join(folder, 'lib/a.yaml'))).toBe(true);
    for (const more of [[], ['--head', 'HEAD']]) {
      expect(await newsOf(folder, '--base', 'HEAD', ...more)).toEqual([
        'remark: `lib` is a submodule; what lies in it is not compared.',
      ]);
    }
  });

  it('may hold what cannot be read, which is no news where it was there before', async () => {
    const folder = repositoryOf([
      {
        on: 'main',
        puts: {
          ...ternBench,
          'out.yaml': { link: '../../etc/passwd' },
          folder: { link: '/usr' },
          'a\\xff.yaml': 'kind: maker\nid: a\nname: A\n',
          'odd\n"name".yaml': 'kind: maker\nid: odd\nname: Odd\n',
          'latin.yaml': Buffer.from('kind: maker\nid: \xe9\n', 'latin1'),
          'large.yaml': `kind: maker\nid: large\nname: Large\n${'# much\n'.repeat(150_000)}`,
        },
      },
    ]);
    expect(await newsOf(folder, '--base', 'main')).toEqual([]);
    expect(await newsOf(folder, '--base', 'main', '--head', 'main')).toEqual([]);
  });
});

describe('what the other side has changed meanwhile', () => {
  const drives = ternBench['drives/tern.yaml'];
  const another = (id: string): string => `---\nkind: drive\nid: ${id}\nfamily: tern-2\n`;
  const sides = (mine: Commit['puts'], theirs: Commit['puts']): string =>
    repositoryOf([
      { on: 'main', puts: ternBench },
      { on: 'topic', from: 'main', puts: mine },
      { on: 'main', puts: theirs },
    ]);

  it('is put together with the change line by line', async () => {
    const folder = sides(
      {
        'drives/tern.yaml': `${another('d-1').slice(4)}---\n${drives}`,
        'rules/a.yaml': 'kind: maker\nid: mew\nname: Mew\n',
      },
      { 'drives/tern.yaml': `${drives}${another('d-2')}${another('d-1')}`, 'drives/more.yaml': another('d-2') },
    );
    const run = await review(folder, '--base', 'main', '--head', 'topic', '--json');
    const { onMerge, findings, remarks } = JSON.parse(run.stdout);
    expect({ findings, remarks }).toEqual({ findings: { new: [], gone: [], still: 0 }, remarks: [] });
    expect(onMerge).toEqual([
      expect.objectContaining({
        check: 'duplicate-id',
        file: 'drives/tern.yaml',
        range: { start: { line: 19, character: 4 }, end: { line: 19, character: 7 } },
      }),
    ]);
    expect(run.code).toBe(1);
  });

  it('is said to be in conflict where it does not go together', async () => {
    const folder = sides(
      { 'drives/tern.yaml': drives.replace('d-0117', 'd-0119'), 'swaplore.yaml': 'swaplore: 1\nname: Mine\n' },
      { 'drives/tern.yaml': null, 'swaplore.yaml': 'swaplore: 1\nname: Theirs\n' },
    );
    const news = await newsOf(folder, '--base', 'main', '--head', 'topic');
    expect(news.filter((line) => /^(?:remark|merged)/.test(line))).toMatchInlineSnapshot(`
      [
        "remark: \`main\` has meanwhile changed \`drives/tern.yaml\`, \`swaplore.yaml\` as well, and here that cannot be put together with this change, so that nothing is said of what a merge would bring.",
      ]
    `);
  });

  it('is put together with files that have other line ends on the disk', async () => {
    const folder = sides(
      { 'drives/tern.yaml': `${another('d-1').slice(4)}---\n${drives}` },
      { 'drives/tern.yaml': `${drives}${another('d-1')}` },
    );
    git(folder, 'checkout', '--quiet', 'topic');
    const lf = await newsOf(folder, '--base', 'main');
    expect(lf).toContain('merged: error duplicate-id drive/d-1; drive/d-1 by both');
    git(folder, 'config', 'core.autocrlf', 'true');
    rmSync(join(folder, 'drives'), { recursive: true });
    git(folder, 'checkout', '--quiet', '--', 'drives');
    expect(readFileSync(join(folder, 'drives/tern.yaml'), 'utf8')).toContain('\r\n');
    expect(await newsOf(folder, '--base', 'main')).toEqual(lf);
  });

  it('may be that the base is there no longer', async () => {
    const folder = sides(
      { 'outcomes/left.yaml': outcome('left', 'left') },
      Object.fromEntries(Object.keys(ternBench).map((path) => [path, null])),
    );
    expect(await newsOf(folder, '--base', 'main', '--head', 'topic')).toEqual([
      'remark: `main` has this base no longer, so that nothing is said of what a merge would bring.',
      ...news,
    ]);
  });
});

it('tells a copy of a file from the file', async () => {
  const folder = repositoryOf([
    { on: 'main', puts: ternBench },
    { on: 'main', puts: { 'makers/again.yaml': ternBench['makers/wren.yaml'] } },
  ]);
  for (const more of [[], ['--head', 'c2']]) {
    const { stdout } = await review(folder, '--base', 'c1', '--json', ...more);
    // Of two records with one id the first by path stands.
    expect(JSON.parse(stdout).findings.new).toEqual([
      expect.objectContaining({
        check: 'duplicate-id',
        file: 'makers/wren.yaml',
        related: [expect.objectContaining({ file: 'makers/again.yaml' })],
      }),
    ]);
  }
});

describe('other files that records name', () => {
  const named = `kind: drive\nid: d-1\nfamily: tern-2\nrom_image: {file: rom.bin, sha256: "${createHash('sha256').update('one').digest('hex')}"}\nphotos: [{file: photo.jpg}]\n`;
  const folder = () =>
    repositoryOf([
      {
        on: 'main',
        puts: {
          ...ternBench,
          'd/one.yaml': named,
          'd/rom.bin': 'one',
          'd/photo.jpg': { link: '../pictures/1.jpg' },
          'pictures/1.jpg': 'x',
        },
      },
      { on: 'main', puts: { 'd/rom.bin': 'two' } },
      { on: 'main', puts: { 'd/rom.bin': 'one', 'pictures/1.jpg': null } },
      { on: 'main', puts: { 'd/one.yaml': null, 'e/one.yaml': named } },
    ]);

  it('are looked at in each revision', async () => {
    const at = folder();
    expect(await newsOf(at, '--base', 'c1', '--head', 'c2')).toMatchInlineSnapshot(`
      [
        "new error capture-changed drive/d-1",
        "exit 1",
      ]
    `);
    expect(await newsOf(at, '--base', 'c2', '--head', 'c3')).toMatchInlineSnapshot(`
      [
        "new error capture-missing drive/d-1",
        "gone error capture-changed drive/d-1",
        "exit 1",
      ]
    `);
    expect(await newsOf(at, '--base', 'c1')).toEqual(await newsOf(at, '--base', 'c1', '--head', 'c4'));
    // They lie beside the record's file, which has moved away from them.
    expect(await newsOf(at, '--base', 'c3')).toMatchInlineSnapshot(`
      [
        "new error capture-missing drive/d-1",
        "new error capture-missing drive/d-1",
        "gone error capture-missing drive/d-1",
        "exit 1",
      ]
    `);
  });
});

it.skipIf(process.getuid?.() !== 0)('does not read what git does not trust, and says how to change that', async () => {
  const folder = repositoryOf(twoCommits);
  chownSync(folder, 65534, 65534);
  chownSync(join(folder, '.git'), 65534, 65534);
  expect(await refusal(folder, '--base', 'c1')).toMatchInlineSnapshot(`
    "swaplore: git does not read the repository of FOLDER, because it belongs to another user.
    Where it is trusted, say so to git: git config --global --add safe.directory FOLDER.
    "
  `);
});

it('reads repositories whose ids are longer', async () => {
  const folder = emptyFolder();
  git(folder, 'init', '--quiet', '--object-format=sha256', '--initial-branch=main');
  expect(await newsOf(repositoryOf(twoCommits, folder), '--base', 'c1')).toEqual(news);
  expect(await newsOf(folder, '--base', 'c1', '--head', 'c2')).toEqual(news);
});

it('leaves everything as it is, and starts nothing that a repository names', async () => {
  const folder = repositoryOf(twoCommits);
  const marker = join(emptyFolder(), 'ran');
  const script = join(folder, 'script.sh');
  writeFileSync(script, `#!/bin/sh\ntouch ${marker}\ncat\n`);
  chmodSync(script, 0o755);
  for (const name of [
    'core.fsmonitor',
    'core.pager',
    'pager.cat-file',
    'core.sshCommand',
    'diff.x.textconv',
    'filter.x.smudge',
    'core.hooksPath',
  ]) {
    git(folder, 'config', name, name === 'core.hooksPath' ? folder : script);
  }
  writeFileSync(join(folder, '.git/info/attributes'), '*.yaml diff=x filter=x\n');
  for (const hook of ['post-checkout', 'post-index-change', 'reference-transaction'])
    writeFileSync(join(folder, hook), `#!/bin/sh\ntouch ${marker}\n`, { mode: 0o755 });
  const state = () =>
    readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .sort()
      .map((path) => `${path} ${statSync(join(folder, path)).mtimeMs}`);
  const before = state();
  // A file of the same content with another time has git write its index, if it may.
  expect(await newsOf(folder, '--base', 'c1')).toEqual(news);
  expect(await newsOf(folder, '--base', 'c1', '--head', 'c2')).toEqual(news);
  expect(state()).toEqual(before);
  expect(existsSync(marker)).toBe(false);
});

it('remembers what it read, and finds the same with it', () => {
  const folder = repositoryOf(twoCommits);
  const env = { XDG_CACHE_HOME: emptyFolder() };
  const first = runCommand(folder, ['review', '--base', 'c1', '--head', 'c2'], { env });
  expect(first.code).toBe(1);
  expect(runCommand(folder, ['review', '--base', 'c1', '--head', 'c2'], { env })).toEqual(first);
  expect(runCommand(folder, ['review', '--base', 'c1', '--head', 'c2', '--no-cache'], { env })).toEqual(first);
});
