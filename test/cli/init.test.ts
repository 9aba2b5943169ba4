import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ciKits } from '../../server/src/core/starting/ci-kits.ts';
import { folderOf, runCommand, transcript } from '../harness/run-cli.ts';

const today = ['--today', '2026-11-25'];

function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8', withFileTypes: true })
    .filter((entry) => !entry.isDirectory())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .sort();
}

it('makes a base in which nothing is found, and whose rule its outcome supports', () => {
  const folder = folderOf({});
  expect(
    transcript(runCommand(folder, ['init', 'bench', '--name', 'Harbour Street', ...today])),
  ).toMatchInlineSnapshot(`
    "12 files written to bench:
      README.md
      .gitignore
      .github/workflows/swaplore.yml
      .vscode/extensions.json
      makers/ostry.yaml
      families/ravelin-3.yaml
      boards/odw-7210.yaml
      drives/d-0001.yaml
      drives/d-0002.yaml
      outcomes/2026-11-25-ravelin-1-2.yaml
      rules/ravelin-own-rom-travels.yaml
      swaplore.yaml
    Check it with: swaplore lint bench
    exit 0"
  `);
  expect(transcript(runCommand(folder, ['lint', 'bench', ...today]))).toMatchInlineSnapshot(`
    "Harbour Street: nothing found (8 files, 7 records)
    exit 0"
  `);
  expect(transcript(runCommand(folder, ['contradictions', '--folder', 'bench', ...today]))).toMatchInlineSnapshot(`
    "Outcomes against rules: Harbour Street
    ======================================

    No recorded outcome breaks a rule.

    Rules

    rule                     support  against  undecided  excepted
    ravelin-own-rom-travels        1        0          0         0

    Support and against count outcomes that decide the claim. Undecided: a control,
    a value or the scope is not known. Excepted: set aside by the rule itself.
    Outcomes the claim says nothing about are not counted.
    exit 0"
  `);
});

it('takes the folder it is run in, and its name', () => {
  const folder = folderOf({ 'quay/keep.txt': '' });
  const { code } = runCommand(folder, ['init', ...today], { from: 'quay' });
  expect(code).toBe(0);
  expect(readFileSync(join(folder, 'quay/swaplore.yaml'), 'utf8')).toContain('\nname: quay #');
  expect(transcript(runCommand(folder, ['lint', ...today]))).toMatchInlineSnapshot(`
    "quay: nothing found (8 files, 7 records)
    exit 0"
  `);
});

it('lists what it would write, and writes nothing', () => {
  const folder = folderOf({ 'bench/README.md': 'Ours.' });
  const would = runCommand(folder, ['init', 'bench', '--dry-run', ...today]);
  expect(transcript(would)).toMatchInlineSnapshot(`
    "11 files would be written to bench:
      .gitignore
      .github/workflows/swaplore.yml
      .vscode/extensions.json
      makers/ostry.yaml
      families/ravelin-3.yaml
      boards/odw-7210.yaml
      drives/d-0001.yaml
      drives/d-0002.yaml
      outcomes/2026-11-25-ravelin-1-2.yaml
      rules/ravelin-own-rom-travels.yaml
      swaplore.yaml
    There already, and left as they are: README.md
    exit 0"
  `);
  expect(filesIn(folder)).toEqual(['bench/README.md']);
  const did = runCommand(folder, ['init', 'bench', ...today]);
  const listed = (text: string): string[] => text.split('\n').filter((line) => line.startsWith('  '));
  expect(listed(did.stdout)).toEqual(listed(would.stdout));
  expect(filesIn(join(folder, 'bench'))).toEqual(
    [...listed(did.stdout).map((line) => line.trim()), 'README.md'].sort(),
  );
});

it('leaves what is there already, and names it', () => {
  const folder = folderOf({ 'README.md': 'Ours.', 'makers/ostry.yaml': 'kind: maker\nid: ostry\nname: Ours\n' });
  mkdirSync(join(folder, '.gitignore'));
  const { stdout } = runCommand(folder, ['init', ...today]);
  expect(stdout).toContain('There already, and left as they are: README.md, .gitignore, makers/ostry.yaml\n');
  expect(readFileSync(join(folder, 'README.md'), 'utf8')).toBe('Ours.');
  expect(readFileSync(join(folder, 'makers/ostry.yaml'), 'utf8')).toContain('name: Ours');
});

describe('writes nothing', () => {
  it('into a base', () => {
    const folder = folderOf({ 'swaplore.yaml': 'swaplore: 1\n' });
    expect(transcript(runCommand(folder, ['init', '--dry-run']))).toMatchInlineSnapshot(`
      "! swaplore: There is a base in this folder already.
      ! Nothing was written. With --ci the files of a kit are added to it.
      exit 2"
    `);
    expect(filesIn(folder)).toEqual(['swaplore.yaml']);
  });

  it('below a base, by whatever way', () => {
    const folder = folderOf({ 'bench/swaplore.yaml': 'swaplore: 1\n', 'bench/outcomes/keep.txt': '' });
    symlinkSync(join(folder, 'bench/outcomes'), join(folder, 'shortcut'));
    expect(transcript(runCommand(folder, ['init', 'bench/new/er']))).toMatchInlineSnapshot(`
      "! swaplore: bench/new/er lies in the base bench.
      ! Nothing was written. Name a folder outside of it.
      exit 2"
    `);
    expect(transcript(runCommand(folder, ['init', 'shortcut/new']))).toMatchInlineSnapshot(`
      "! swaplore: shortcut/new lies in the base bench.
      ! Nothing was written. Name a folder outside of it.
      exit 2"
    `);
    expect(filesIn(folder)).toEqual(['bench/outcomes/keep.txt', 'bench/swaplore.yaml', 'shortcut']);
  });

  it('where something else stands in the place of a folder or the config', () => {
    const folder = folderOf({ 'file/outcomes': 'mine', 'odd/swaplore.yaml/keep.txt': '', 'link/keep.txt': '' });
    mkdirSync(join(folder, 'elsewhere'));
    symlinkSync(join(folder, 'elsewhere'), join(folder, 'link/drives'));
    const before = filesIn(folder);
    expect(transcript(runCommand(folder, ['init', 'file']))).toMatchInlineSnapshot(`
      "! swaplore: file/outcomes is no folder, so nothing was written.
      ! Name another folder, or move what stands there.
      exit 2"
    `);
    expect(transcript(runCommand(folder, ['init', 'link']))).toMatchInlineSnapshot(`
      "! swaplore: link/drives is no folder, so nothing was written.
      ! Name another folder, or move what stands there.
      exit 2"
    `);
    expect(transcript(runCommand(folder, ['init', 'odd']))).toMatchInlineSnapshot(`
      "! swaplore: odd/swaplore.yaml is no file, so nothing was written.
      ! Name another folder, or move what stands there.
      exit 2"
    `);
    expect(transcript(runCommand(folder, ['init', 'file/outcomes']))).toMatchInlineSnapshot(`
      "! swaplore: file/outcomes/README.md cannot be read: a part of its path is no folder, so nothing was written.
      ! Name another folder, or move what stands there.
      exit 2"
    `);
    expect(filesIn(folder)).toEqual(before);
  });

  it('where a name is empty', () => {
    expect(transcript(runCommand(folderOf({}), ['init', '--name', ' ']))).toMatchInlineSnapshot(`
      "! swaplore: The name of a base cannot be empty.
      ! Give one with --name.
      exit 2"
    `);
  });
});

describe('where it cannot write', () => {
  it('says why', (context) => {
    if (process.getuid?.() !== 0) return context.skip('only root can run it as somebody else');
    expect(transcript(runCommand(folderOf({}), ['init', 'bench'], { user: 65534 }))).toMatchInlineSnapshot(`
      "! swaplore: bench/README.md cannot be written: permission denied.
      ! Nothing was written. Once that is mended, the same command goes on.
      exit 2"
    `);
  });

  it('names what was written by then, and goes on once it can', (context) => {
    if (process.getuid?.() !== 0) return context.skip('only root can run it as somebody else');
    const folder = folderOf({});
    chmodSync(folder, 0o777);
    mkdirSync(join(folder, 'drives'), { mode: 0o755 });
    expect(transcript(runCommand(folder, ['init', ...today], { user: 65534 }))).toMatchInlineSnapshot(`
      "! swaplore: drives/d-0001.yaml cannot be written: permission denied.
      ! Written before, and left there: README.md, .gitignore, .github/workflows/swaplore.yml, .vscode/extensions.json, makers/ostry.yaml, families/ravelin-3.yaml, boards/odw-7210.yaml. Once that is mended, the same command goes on.
      exit 2"
    `);
    expect(existsSync(join(folder, 'swaplore.yaml'))).toBe(false);
    expect(filesIn(folder).filter((path) => path.endsWith('.tmp'))).toEqual([]);
    const { stdout, code } = runCommand(folder, ['init', ...today]);
    expect(code).toBe(0);
    expect(stdout).toContain('5 files written to this folder:');
    expect(runCommand(folder, ['lint', ...today]).code).toBe(0);
  });
});

describe('what checks a base by itself', () => {
  const paths = Object.values(ciKits).map(({ path }) => path);

  it('is what is asked for, with the tool that is named', () => {
    const folder = folderOf({});
    const asked = Object.keys(ciKits).flatMap((kit) => ['--ci', kit]);
    expect(runCommand(folder, ['init', ...asked, '--tool', '@bench/swaplore@0.1.0', ...today]).code).toBe(0);
    for (const path of paths) expect(readFileSync(join(folder, path), 'utf8')).toContain('@bench/swaplore@0.1.0');
    expect(runCommand(folder, ['lint', ...today]).code).toBe(0);
  });

  it('is added to a base that is there, and takes the place of nothing', () => {
    const folder = folderOf({ 'swaplore.yaml': 'swaplore: 1\n', '.gitlab-ci.yml': 'ours: {}\n' });
    const asked = ['init', '--ci', 'shell', '--ci', 'gitlab', '--ci', 'shell'];
    expect(transcript(runCommand(folder, asked))).toMatchInlineSnapshot(`
      "1 file written to this folder:
        ci/lint.sh
      There already, and left as they are: .gitlab-ci.yml
      Check it with: swaplore lint
      exit 0"
    `);
    expect(filesIn(folder)).toEqual(['.gitlab-ci.yml', 'ci/lint.sh', 'swaplore.yaml']);
    expect(readFileSync(join(folder, '.gitlab-ci.yml'), 'utf8')).toBe('ours: {}\n');
  });

  it('is refused where it is not known', () => {
    expect(transcript(runCommand(folderOf({}), ['init', '--ci', 'gitlub']))).toMatchInlineSnapshot(`
      "! swaplore: Kit \`gitlub\` is not known; the nearest are \`github\` and \`gitlab\`.
      ! Use one of github, github-sarif, gitlab, shell, pre-commit.
      exit 2"
    `);
    expect(transcript(runCommand(folderOf({}), ['init', '--tool', 'swaplore@latest']))).toMatchInlineSnapshot(`
      "! swaplore: --tool cannot be swaplore@latest.
      ! A tarball below the folder is needed, such as tools/swaplore.tgz, or a package with its version, such as swaplore@0.1.0.
      exit 2"
    `);
  });
});

it('names no command that cannot be run', () => {
  const folder = folderOf({});
  runCommand(folder, ['init', ...today]);
  const texts = filesIn(folder).map((path) => readFileSync(join(folder, path), 'utf8'));
  const named = texts.flatMap((text) => [...text.matchAll(/^swaplore (.+)$|`swaplore ([^`]+)`/gm)]);
  const commands = new Set(named.map(([, alone, within]) => alone ?? within ?? ''));
  expect(commands).toContain('key outcome.reached');
  for (const command of commands) {
    // What asks somebody, or needs a repository or a table, is run by test/docs/from-an-empty-folder.test.ts.
    const explained = /^(record|review|import)/.test(command) ? ['--help'] : [];
    expect([command, runCommand(folder, [...command.split(' '), ...explained]).code]).toEqual([command, 0]);
  }
});
