import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { folderOf, runCommand, swaplore, transcript } from '../harness/run-cli.ts';
import { ternBench } from '../harness/tern-bench.ts';

const maker = 'kind: maker\nid: wren\nname: Wren\n';
const config = { 'swaplore.yaml': 'swaplore: 1\nname: Bench\n' };

describe('what stands in a file', () => {
  it('nothing', () => {
    expect(swaplore({ ...config, 'a.yaml': '' }, ['lint'])).toMatchInlineSnapshot(`
      "Bench: nothing found (2 files, 0 records)
      exit 0"
    `);
  });

  it('a comment and document marks only', () => {
    expect(swaplore({ ...config, 'a.yaml': '# to be done\n---\n# later\n---\n' }, ['lint'])).toMatchInlineSnapshot(`
      "Bench: nothing found (2 files, 0 records)
      exit 0"
    `);
  });

  it('more than a million bytes', () => {
    const files = { ...config, 'a.yaml': `${maker}#${' '.repeat(1_000_000)}\n` };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "a.yaml:1:1  error  file-too-large
        The file has 1,000,034 bytes; at most 1,000,000 are read.
          Split it into several files; folders and file names carry no meaning.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('lists nested too deep', () => {
    const files = { ...config, 'a.yaml': `${maker}x-deep: ${'['.repeat(100_000)}\n` };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "a.yaml:4:72  error  too-deep
        Maps and lists are nested more than 64 deep here.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('maps nested too deep, by indentation', () => {
    const deep = Array.from({ length: 400 }, (_, depth) => `${' '.repeat(depth)}a:`).join('\n');
    expect(swaplore({ ...config, 'a.yaml': `${deep} 1\n` }, ['lint'])).toMatchInlineSnapshot(`
      "a.yaml:65:66  error  too-deep
        Maps and lists are nested more than 64 deep here.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('aliases that stand for more values than fit into memory', () => {
    const levels = Array.from({ length: 30 }, (_, level) => {
      const before = level === 0 ? 'x' : `*a${level - 1}`;
      return `x-a${level}: &a${level} [${Array(9).fill(before).join(', ')}]\n`;
    });
    expect(swaplore({ ...config, 'a.yaml': maker + levels.join('') }, ['lint'])).toMatchInlineSnapshot(`
      "a.yaml:8:11  error  too-deep
        Aliases repeat more than 20,000 values in this.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('more aliases than anybody types', () => {
    const files = { ...config, 'a.yaml': `${maker}x-one: &one 1\nx-many: [${'*one, '.repeat(1001)}]\n` };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "a.yaml:5:6010  error  too-deep
        More than 1,000 aliases are used in this file.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('a NUL character', () => {
    expect(swaplore({ ...config, 'a.yaml': `${maker}x-nul: "\u0000"\n` }, ['lint'])).toMatchInlineSnapshot(`
      "a.yaml:1:1  error  not-text
        The file is not text: it holds a NUL character at offset 40.
          Save it as UTF-8.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('UTF-16', () => {
    const text = Buffer.from(`\ufeff${maker}`, 'utf16le');
    expect(swaplore({ ...config, 'a.yaml': text }, ['lint'])).toMatchInlineSnapshot(`
      "a.yaml:1:1  error  not-text
        The file is not text: it is UTF-16, not UTF-8.
          Save it as UTF-8.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('UTF-16 without a mark at its start', () => {
    expect(swaplore({ ...config, 'a.yaml': Buffer.from(maker, 'utf16le') }, ['lint'])).toMatchInlineSnapshot(`
      "a.yaml:1:1  error  not-text
        The file is not text: it holds a NUL character at offset 1.
          Save it as UTF-8.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('Latin-1', () => {
    const text = Buffer.from('kind: maker\nid: wren\nname: Zaunkönig\n', 'latin1');
    expect(swaplore({ ...config, 'a.yaml': text }, ['lint'])).toMatchInlineSnapshot(`
      "a.yaml:1:1  error  not-text
        The file is not text: it is not UTF-8.
          Save it as UTF-8.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('UTF-8 with a mark at its start, and Windows line ends', () => {
    expect(
      swaplore({ ...config, 'a.yaml': `\ufeff${maker.replaceAll('\n', '\r\n')}` }, ['lint']),
    ).toMatchInlineSnapshot(`
      "Bench: nothing found (2 files, 1 record)
      exit 0"
    `);
  });

  it('one long line that is no record', () => {
    expect(swaplore({ ...config, 'a.yaml': 'wren '.repeat(50_000) }, ['lint'])).toMatchInlineSnapshot(`
      "a.yaml:1:1  error  schema
        \`document\` cannot be \`wren wren wren wren wren wren wren wren wren wren wren
        wren \`; a map of keys that begins with \`kind\` is needed.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('words of JavaScript as keys', () => {
    const files = { ...config, 'a.yaml': `${maker}x-a: {__proto__: {id: x}}\nconstructor: 1\n` };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "a.yaml:5:1  error  unknown-key
        Maker \`wren\` has the key \`constructor\`, which is not known; known there are
        \`kind\`, \`id\`, \`name\`, \`ouis\`, \`date_code\`, \`label\`, \`notes\`, \`sources\`,
        \`photos\`, \`retracted\`.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 1 record)
      exit 1"
    `);
  });

  it.each([
    ['of more than a million bytes', `swaplore: 1\n#${' '.repeat(1_000_000)}\n`],
    ['nested too deep', `swaplore: 1\nx-a: ${'['.repeat(65)}${']'.repeat(65)}\n`],
    ['in UTF-16', Buffer.from('\ufeffswaplore: 1\n', 'utf16le')],
    ['of several documents', 'swaplore: 1\n---\nswaplore: 1\n'],
    ['that is a list', '- swaplore: 1\n'],
  ])('a config %s is one finding, and the base is not checked', (_, text) => {
    const { stdout, code } = runCommand(folderOf({ 'swaplore.yaml': text }), ['lint', '--format', 'json']);
    const checks = JSON.parse(stdout).findings.map(({ check }: { check: string }) => check);
    expect({ checks, code }).toEqual({ checks: ['config-invalid'], code: 2 });
  });
});

describe.runIf(process.platform !== 'win32')('what is no plain file', () => {
  it('a link to nothing', () => {
    const folder = folderOf(config);
    symlinkSync('gone.yaml', join(folder, 'x.yaml'));
    expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
      "x.yaml:1:1  error  file-unreadable
        The file cannot be read: it is a link, and nothing is there.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('a link to itself', () => {
    const folder = folderOf(config);
    symlinkSync('x.yaml', join(folder, 'x.yaml'));
    expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
      "x.yaml:1:1  error  file-unreadable
        The file cannot be read: it is a link, and it leads back to itself.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('a link out of the base', () => {
    const folder = folderOf({ 'base/swaplore.yaml': 'swaplore: 1\n', 'secret.yaml': 'kind: secret\n' });
    symlinkSync('../secret.yaml', join(folder, 'base/x.yaml'));
    const shown = transcript(runCommand(folder, ['lint']));
    expect(shown).toMatchInlineSnapshot(`
      "base/x.yaml:1:1  error  file-unreadable
        The file cannot be read: it is a link that leads out of the base.

      base: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
    expect(shown).not.toContain('secret');
  });

  it('a link out of the base that never ends', () => {
    const folder = folderOf(config);
    symlinkSync('/dev/zero', join(folder, 'x.yaml'));
    expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
      "x.yaml:1:1  error  file-unreadable
        The file cannot be read: it is a link that leads out of the base.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('a link to a file of the base is another name for what is read anyway', () => {
    const folder = folderOf({ ...config, 'a.yaml': maker });
    symlinkSync('a.yaml', join(folder, 'x.yaml'));
    expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
      "Bench: nothing found (2 files, 1 record)
      exit 0"
    `);
  });

  it('a link to a file of the base that holds no records', () => {
    const folder = folderOf({ ...config, 'notes.txt': 'x' });
    symlinkSync('notes.txt', join(folder, 'x.yaml'));
    expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
      "x.yaml:1:1  error  file-unreadable
        The file cannot be read: it is a link to a file that is not read as records.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('a link to a folder, whatever its name', () => {
    const folder = folderOf({ ...config, 'makers/wren.yaml': maker });
    symlinkSync('makers', join(folder, 'more'));
    symlinkSync('makers', join(folder, 'x.yaml'));
    expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
      "more:1:1  error  file-unreadable
        The file cannot be read: it is a link to a folder, and links to folders are
        not followed.

      x.yaml:1:1  error  file-unreadable
        The file cannot be read: it is a link to a folder, and links to folders are
        not followed.

      Bench: 2 errors, 0 warnings, 0 notes (4 files, 1 record)
      exit 1"
    `);
  });

  it('a link to the folder above: the walk ends', () => {
    const folder = folderOf({ ...config, 'makers/wren.yaml': maker });
    symlinkSync('..', join(folder, 'makers/up'));
    expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
      "makers/up:1:1  error  file-unreadable
        The file cannot be read: it is a link to a folder, and links to folders are
        not followed.

      Bench: 1 error, 0 warnings, 0 notes (3 files, 1 record)
      exit 1"
    `);
  });

  it('a pipe nobody writes to', () => {
    const folder = folderOf(config);
    execFileSync('mkfifo', [join(folder, 'x.yaml')]);
    expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
      "x.yaml:1:1  error  file-unreadable
        The file cannot be read: it is no regular file.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 0 records)
      exit 1"
    `);
  });

  it('a pipe in place of the config', () => {
    const folder = folderOf({ 'a.yaml': maker });
    execFileSync('mkfifo', [join(folder, 'swaplore.yaml')]);
    expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
      "! swaplore: There is no swaplore.yaml in, above or below this folder.
      ! A base is the folder that holds a swaplore.yaml with the line "swaplore: 1".
      exit 2"
    `);
  });

  it('a folder named like a file, which is entered like any other', () => {
    const folder = folderOf({ ...config, 'x.yaml/a.yaml': 'kind: maker\nid: wren\n' });
    expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
      "x.yaml/a.yaml:1:1  error  schema
        Maker \`wren\` has no \`name\`; text is needed.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 1 record)
      exit 1"
    `);
  });

  it('a folder named like a config, which makes no base', () => {
    const folder = folderOf({ ...config, 'makers/wren.yaml': 'kind: maker\nid: wren\n' });
    mkdirSync(join(folder, 'makers/swaplore.yaml'));
    expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
      "makers/wren.yaml:1:1  error  schema
        Maker \`wren\` has no \`name\`; text is needed.

      Bench: 1 error, 0 warnings, 0 notes (2 files, 1 record)
      exit 1"
    `);
  });

  it('a config that is a link out of the base', () => {
    const folder = folderOf({ 'secret.txt': 'a secret\n', 'base/makers/wren.yaml': maker });
    symlinkSync('../secret.txt', join(folder, 'base/swaplore.yaml'));
    const shown = transcript(runCommand(folder, ['lint']));
    expect(shown).toMatchInlineSnapshot(`
      "base/swaplore.yaml:1:1  error  config-invalid
        The config cannot be read: it is a link, and links are not followed.

      base: 1 error, 0 warnings, 0 notes (not checked: its config cannot be used)
      exit 2"
    `);
    expect(shown).not.toContain('secret');
    expect(transcript(runCommand(folder, ['lint', 'base']))).toBe(shown);
  });

  it('a config that is a link to nothing', () => {
    const folder = folderOf({ 'makers/wren.yaml': maker });
    symlinkSync('gone.yaml', join(folder, 'swaplore.yaml'));
    expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
      "swaplore.yaml:1:1  error  config-invalid
        The config cannot be read: it is a link, and links are not followed.

      .: 1 error, 0 warnings, 0 notes (not checked: its config cannot be used)
      exit 2"
    `);
  });
});

/** Root may read everything, so where the tests run as root the command runs as somebody else. */
const isRoot = process.getuid?.() === 0;
const user = isRoot ? 65_534 : undefined;
const canRun =
  process.platform !== 'win32' &&
  spawnSync(process.execPath, ['-e', ''], user ? { uid: user, gid: user } : {}).status === 0;

const how = canRun
  ? isRoot
    ? ', run as another user than root'
    : ''
  : ' (skipped: no user but root can run Node here)';

describe.runIf(canRun)(`what may not be read${how}`, () => {
  const lintWithout = (files: Record<string, string>, path: string, mode: number, args = ['lint']): string => {
    const folder = folderOf(files);
    chmodSync(join(folder, path), mode);
    // Else an ordinary user could not remove the folder.
    onTestFinished(() => chmodSync(join(folder, path), 0o755));
    return transcript(runCommand(folder, args, { user }));
  };

  it('a file; what may stand in it is not called missing', () => {
    expect(lintWithout(ternBench, 'families/tern.yaml', 0)).toMatchInlineSnapshot(`
      "families/tern.yaml:1:1  error  file-unreadable
        The file cannot be read: permission denied.

      Harbour Street bench: 1 error, 0 warnings, 0 notes (6 files, 5 records)
      exit 1"
    `);
  });

  it('a folder that may not be listed', () => {
    expect(lintWithout(ternBench, 'families', 0)).toMatchInlineSnapshot(`
      "families:1:1  error  file-unreadable
        The file cannot be read: it is a folder that cannot be listed (permission
        denied).

      Harbour Street bench: 1 error, 0 warnings, 0 notes (6 files, 5 records)
      exit 1"
    `);
  });

  it('a folder whose files may be listed and not opened', () => {
    expect(lintWithout(ternBench, 'families', 0o444)).toMatchInlineSnapshot(`
      "families/tern.yaml:1:1  error  file-unreadable
        The file cannot be read: permission denied.

      Harbour Street bench: 1 error, 0 warnings, 0 notes (6 files, 5 records)
      exit 1"
    `);
  });

  it('a hidden or ignored folder is not asked for', () => {
    const files = { ...config, 'a.yaml': maker, '.git/x.yaml': '' };
    expect(lintWithout(files, '.git', 0)).toMatchInlineSnapshot(`
      "Bench: nothing found (2 files, 1 record)
      exit 0"
    `);
    const ignoring = { 'swaplore.yaml': 'swaplore: 1\nname: Bench\nignore: [attic]\n', 'attic/x.yaml': '' };
    expect(lintWithout(ignoring, 'attic', 0)).toMatchInlineSnapshot(`
      "Bench: nothing found (1 file, 0 records)
      exit 0"
    `);
  });

  it('the config', () => {
    expect(lintWithout(ternBench, 'swaplore.yaml', 0)).toMatchInlineSnapshot(`
      "swaplore.yaml:1:1  error  config-invalid
        The config cannot be read: permission denied.

      .: 1 error, 0 warnings, 0 notes (not checked: its config cannot be used)
      exit 2"
    `);
    expect(lintWithout(ternBench, 'swaplore.yaml', 0, ['contradictions'])).toMatchInlineSnapshot(`
      "! swaplore: The base . has a config that cannot be used.
      ! swaplore lint says why.
      exit 2"
    `);
  });

  it('the folder of the base', () => {
    const files = { 'base/swaplore.yaml': 'swaplore: 1\n', 'base/a.yaml': maker };
    expect(lintWithout(files, 'base', 0, ['lint', 'base'])).toMatchInlineSnapshot(`
      "! swaplore: The folder base cannot be read: permission denied.
      exit 2"
    `);
    expect(lintWithout(files, 'base', 0o111, ['lint', 'base'])).toMatchInlineSnapshot(`
      "! swaplore: The folder base cannot be read: permission denied.
      exit 2"
    `);
    expect(lintWithout(files, 'base', 0, ['contradictions', '--folder', 'base'])).toMatchInlineSnapshot(`
      "! swaplore: The folder base cannot be read: permission denied.
      exit 2"
    `);
  });

  it('the folder of the base, seen from inside', () => {
    const folder = folderOf({ 'base/swaplore.yaml': 'swaplore: 1\n', 'base/makers/wren.yaml': maker });
    chmodSync(join(folder, 'base'), 0o111);
    onTestFinished(() => chmodSync(join(folder, 'base'), 0o755));
    expect(transcript(runCommand(folder, ['lint'], { user, from: 'base/makers' }))).toMatchInlineSnapshot(`
      "! swaplore: The folder .. cannot be read: permission denied.
      exit 2"
    `);
  });
});

describe('what does not belong to the base', () => {
  const faulty = 'kind: [\n';

  it('matches a pattern of `ignore`', () => {
    const files = {
      'swaplore.yaml': 'swaplore: 1\nname: Bench\nignore: [imports/**, attic, "*.draft.yaml", "**/old-?.yaml"]\n',
      'a.yaml': maker,
      'imports/a.yaml': faulty,
      'imports/deep/a.yaml': faulty,
      'attic/a.yaml': faulty,
      'b.draft.yaml': faulty,
      'old-1.yaml': faulty,
      'c/d/old-2.yaml': faulty,
    };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "Bench: nothing found (2 files, 1 record)
      exit 0"
    `);
  });

  it('but what a pattern only resembles does', () => {
    const files = {
      'swaplore.yaml': 'swaplore: 1\nname: Bench\nignore: [imports/*, "*.draft.yaml", old-?.yaml]\n',
      'imports/deep/a.yaml': 'kind: maker\nid: a\n',
      'deep/b.draft.yaml': 'kind: maker\nid: b\n',
      'old-12.yaml': 'kind: maker\nid: c\n',
    };
    const { stdout, code } = runCommand(folderOf(files), ['lint', '--format', 'json']);
    expect(code).toBe(1);
    expect(JSON.parse(stdout).findings.map(({ file }: { file: string }) => file)).toEqual([
      'deep/b.draft.yaml',
      'old-12.yaml',
    ]);
  });

  it('is hidden, or in node_modules', () => {
    const files = {
      ...config,
      'a.yaml': maker,
      '.github/workflows/ci.yaml': faulty,
      '.hidden.yaml': faulty,
      'node_modules/a/b.yaml': faulty,
      'deep/node_modules/b.yaml': faulty,
      'deep/.cache/b.yaml': faulty,
    };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "Bench: nothing found (2 files, 1 record)
      exit 0"
    `);
  });

  it('lies in a base of its own, whose ids are its own', () => {
    const files = {
      ...config,
      'a.yaml': maker,
      'inner/swaplore.yaml': 'swaplore: 1\nname: Inner\n',
      'inner/a.yaml': maker,
      'inner/b.yaml': 'kind: family\nid: tern-2\nmaker: siskin\nname: Tern 2\n',
    };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "Bench: nothing found (2 files, 1 record)

      inner/b.yaml:3:8  error  dangling-reference
        Maker \`siskin\` is not recorded in this base.

      Inner: 1 error, 0 warnings, 0 notes (3 files, 2 records)
      exit 1"
    `);
    expect(swaplore(files, ['lint'], { from: 'inner' })).toMatchInlineSnapshot(`
      "b.yaml:3:8  error  dangling-reference
        Maker \`siskin\` is not recorded in this base.

      Inner: 1 error, 0 warnings, 0 notes (3 files, 2 records)
      exit 1"
    `);
  });
});
