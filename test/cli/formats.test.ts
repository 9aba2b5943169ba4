import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import AjvDraft04 from 'ajv-draft-04';
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { afterAll, describe, expect, it } from 'vitest';
import { escapeData, escapeProperty } from '../../server/src/cli/formats/github.ts';
import { escapeAttribute, escapeXml, toJunit } from '../../server/src/cli/formats/junit.ts';
import type { LintedBase } from '../../server/src/cli/formats/linted-base.ts';
import { toRelativeUri, toSarifText } from '../../server/src/cli/formats/sarif.ts';
import { runCli } from '../../server/src/cli/run-cli.ts';
import type { Terminal } from '../../server/src/cli/terminal.ts';
import { checks } from '../../server/src/core/checks/registry.ts';

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true });
});

/** A working folder that holds these files. */
function folderOf(files: Readonly<Record<string, string>>): string {
  const folder = mkdtempSync(join(tmpdir(), 'swaplore-'));
  folders.push(folder);
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  return folder;
}

/** Runs `swaplore lint` in a folder. */
async function lint(cwd: string, ...argv: readonly string[]) {
  const printed = { out: '', err: '' };
  const terminal: Terminal = {
    out: (text) => {
      printed.out += text;
    },
    err: (text) => {
      printed.err += text;
    },
    cwd,
    columns: 80,
    hasColour: false,
  };
  const code = await runCli(['lint', ...argv], terminal, { version: '1.2.3' });
  return { ...printed, code };
}

const odd = 'bench a/drives/50%, #1 größe 🐦.yaml';
/** A base with errors, warnings and notes, and with names and values that every form of output has to escape. */
const files = {
  'bench a/swaplore.yaml': 'swaplore: 1\nname: "A <b>: ::error::\\e[31m & co"\n',
  'bench a/makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'bench a/families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
  [odd]: `kind: drive
id: d-0117
family: tern-2
preamp: "P<A>&'100%\\e\\x01"
x-bird: {note: "🐦🐦", ouuis: 1}
board: {sticker: "🐦🐦", rv: A}
---
kind: drive
id: d-0118
family: tern-2
preamp: "P<A>&'I00%\\e\\x01"
serial: WRN0A4F2K
`,
  'bench a/outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
observed: {sound: clicking, powered_minutes: 4}
verify:
  - {method: write_pass}
  - {method: write_pass}
rom: left
controls: {donor_on_own_board: works, patient_on_own_board: works}
reached: spins
result: fails
`,
  'bench b/swaplore.yaml': 'swaplore: 1\n',
  'bench b/makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\nfoo: 1\n',
};
const cwd = folderOf(files);
const expected = [
  ['unknown-key', 'error'],
  ['look-alike-value', 'info'],
  ['serial-not-masked', 'error'],
  ['kept-powered', 'warning'],
  ['writing-test-on-wanted-data', 'error'],
  ['writing-test-on-wanted-data', 'error'],
  ['unknown-key', 'error'],
] as const;

describe('sarif', () => {
  const require = createRequire(import.meta.url);
  const schema = JSON.parse(
    readFileSync(require.resolve('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json'), 'utf8'),
  ) as object;
  const isUri = (text: string) => /^[\w.~:/?#[\]@!$&'()*+,;=%-]*$/.test(text) && URL.canParse(text, 'file:///base/');
  const ajv = new AjvDraft04({
    strict: false,
    // One pattern of the schema is no valid expression under the `u` flag.
    unicodeRegExp: false,
    formats: { uri: isUri, 'uri-reference': isUri, 'date-time': (text: string) => !Number.isNaN(Date.parse(text)) },
  });
  const validate = ajv.compile(schema);

  async function sarifOf(folder: string, ...argv: readonly string[]) {
    const { out } = await lint(folder, '--format', 'sarif', ...argv);
    const log = JSON.parse(out);
    expect(validate(log), JSON.stringify(validate.errors)).toBe(true);
    return log.runs[0];
  }

  it('follows the schema, with an entry for every check', async () => {
    const run = await sarifOf(cwd);
    expect(run.columnKind).toBe('utf16CodeUnits');
    expect(run.tool.driver.version).toBe('1.2.3');
    expect(run.tool.driver.rules.map((rule: { id: string }) => rule.id)).toEqual(checks.map(({ check }) => check));
    for (const rule of run.tool.driver.rules) expect(rule.help.text.length).toBeGreaterThan(60);
    for (const result of run.results) expect(run.tool.driver.rules[result.ruleIndex].id).toBe(result.ruleId);
  });

  it('gives every finding its level and place, columns in UTF-16 units', async () => {
    const { results } = await sarifOf(cwd);
    const levels = { error: 'error', warning: 'warning', info: 'note' };
    expect(results.map((result: Record<string, unknown>) => [result['ruleId'], result['level']])).toEqual(
      expected.map(([check, severity]) => [check, levels[severity]]),
    );
    const [{ region, artifactLocation }] = results[0].locations.map(
      (location: { physicalLocation: object }) => location.physicalLocation,
    );
    expect(region).toEqual({ startLine: 6, startColumn: 26, endLine: 6, endColumn: 28 });
    expect(artifactLocation.uri).toBe('bench%20a/drives/50%25%2C%20%231%20gr%C3%B6%C3%9Fe%20%F0%9F%90%A6.yaml');
    expect(decodeURIComponent(artifactLocation.uri)).toBe(odd);
  });

  it('keeps fingerprints when lines move and files are renamed, and gives no two findings the same', async () => {
    const prints = async (folder: string) =>
      (await sarifOf(folder)).results.map((result: { partialFingerprints: object }) =>
        Object.values(result.partialFingerprints).join(),
      );
    const before = await prints(cwd);
    const { [odd]: drives, ...others } = files;
    const moved = Object.entries(others).map(([path, text]) => [
      path,
      path.endsWith('one.yaml') ? `# note\n\n${text}` : text,
    ]);
    const after = await prints(folderOf({ ...Object.fromEntries(moved), 'bench a/drives/d.yaml': drives ?? '' }));
    expect(new Set(before).size).toBe(expected.length);
    expect(after).toEqual(before);
  });

  it('says that a run did not succeed', async () => {
    const broken = folderOf({ 'swaplore.yaml': 'swaplore: 9\n' });
    expect((await sarifOf(broken)).invocations).toEqual([{ executionSuccessful: false }]);
    expect((await sarifOf(cwd)).invocations).toEqual([{ executionSuccessful: true }]);
  });

  it.each([
    ['a/b.yaml', 'a/b.yaml'],
    ['../a b.yaml', '../a%20b.yaml'],
    ['c:d?e#f%20', 'c%3Ad%3Fe%23f%2520'],
    ['\ud800x', '%EF%BF%BDx'],
  ])('writes path %j as %s', (path, uri) => {
    expect(toRelativeUri(path)).toBe(uri);
  });

  it.each([
    ['`when: {same: [rev]}`', '`when: {same: [rev]}`'],
    ['[here](http://wren.example)', '\\[here\\](http://wren.example)'],
    ['{0} of {12}', '{{0}} of {{12}}'],
  ])('writes %j as %s', (text, written) => {
    expect(toSarifText(text)).toBe(written);
  });
});

describe('github', () => {
  it.each([
    ['100%', '100%25', '100%25'],
    ['a\r\nb', 'a%0D%0Ab', 'a%0D%0Ab'],
    ['%0A', '%250A', '%250A'],
    ['a:b,c', 'a:b,c', 'a%3Ab%2Cc'],
    ['::error::x', '::error::x', '%3A%3Aerror%3A%3Ax'],
  ])('escapes %j', (text, data, property) => {
    expect(escapeData(text)).toBe(data);
    expect(escapeProperty(text)).toBe(property);
  });

  it('prints a command for each finding, and a line with the counts that is none', async () => {
    const { out } = await lint(cwd, '--format', 'github');
    const lines = out.trimEnd().split('\n');
    expect(lines.pop()).toBe('5 errors, 1 warning, 1 note');
    const commands = lines.map(parseCommand);
    const names = { error: 'error', warning: 'warning', info: 'notice' };
    expect(commands.map(({ name, properties }) => [properties['title'], name])).toEqual(
      expected.map(([check, severity]) => [check, names[severity]]),
    );
    expect(commands[0]?.properties).toEqual({
      file: odd,
      line: '6',
      endLine: '6',
      col: '26',
      endColumn: '28',
      title: 'unknown-key',
    });
    expect(commands[1]?.data).toContain("P<A>&'I00%\\u001b\\u0001");
    expect(commands[2]?.data).toMatch(/ keyed digest\.\nWrite `"\*\*\*\*4F2K"`/);
    expect(out).not.toContain('\u001b');
  });
});

/** Reads a line the way the runner does: properties up to the next `::`, then data, escapes undone last. */
function parseCommand(line: string) {
  const [, name = '', list = '', data = ''] = /^::(\w+) (.*?)::(.*)$/.exec(line) ?? [];
  const undo = (text: string) =>
    text
      .replaceAll('%0D', '\r')
      .replaceAll('%0A', '\n')
      .replaceAll('%3A', ':')
      .replaceAll('%2C', ',')
      .replaceAll('%25', '%');
  const properties = Object.fromEntries(
    list.split(',').map((pair) => [pair.slice(0, pair.indexOf('=')), undo(pair.slice(pair.indexOf('=') + 1))]),
  );
  return { name, properties, data: undo(data) };
}

describe('gitlab', () => {
  it('gives every finding what a code quality report needs', async () => {
    const { out } = await lint(cwd, '--format', 'gitlab');
    const report = JSON.parse(out);
    const severities = { error: 'major', warning: 'minor', info: 'info' };
    expect(report.map((entry: Record<string, unknown>) => [entry['check_name'], entry['severity']])).toEqual(
      expected.map(([check, severity]) => [check, severities[severity]]),
    );
    expect(report[0].location).toEqual({ path: odd, lines: { begin: 6, end: 6 } });
    expect(new Set(report.map((entry: { fingerprint: string }) => entry.fingerprint)).size).toBe(expected.length);
    for (const entry of report) {
      expect(entry.fingerprint).toMatch(/^[0-9a-f]{32}$/);
      expect(entry.description).toMatch(/\.$/);
    }
  });

  it('is an empty list where nothing was found', async () => {
    const clean = folderOf({ 'swaplore.yaml': 'swaplore: 1\n' });
    expect(JSON.parse((await lint(clean, '--format', 'gitlab')).out)).toEqual([]);
  });
});

describe('junit', () => {
  const parser = new XMLParser({
    ignoreAttributes: false,
    attributeNamePrefix: '',
    trimValues: false,
    processEntities: true,
    htmlEntities: true,
    isArray: (name) => ['testsuite', 'testcase'].includes(name),
  });

  function parse(xml: string) {
    expect(XMLValidator.validate(xml)).toBe(true);
    return parser.parse(xml).testsuites;
  }

  it('has a failed test for each error and a passed one for each check without', async () => {
    const all = parse((await lint(cwd, '--format', 'junit')).out);
    const [a, b] = all.testsuite;
    expect([all.tests, all.failures, all.errors]).toEqual([`${2 * checks.length + 1}`, '5', '0']);
    expect(a.name).toBe('A <b>: ::error::[31m & co');
    expect(b.name).toBe('bench b');
    const failed = a.testcase.filter((one: { failure?: object }) => one.failure);
    expect(failed.map((one: { name: string }) => one.name)).toContain(`unknown-key at ${odd}:6:26`);
    const [note] = a.testcase.filter((one: { name: string }) => one.name === 'look-alike-value');
    expect(note['system-out']).toContain("`preamp` is `P<A>&'I00%` on drive `d-0118`");
  });

  it('counts a check that crashed, and a config that cannot be used, as errors', () => {
    const range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };
    const finding = {
      check: 'internal-check-failed',
      severity: 'error',
      file: 'a.yaml',
      start: 0,
      end: 0,
      range,
      message: 'Failed "here".',
      help: undefined,
      record: undefined,
      related: [],
      fixes: [],
    } as const;
    const base: LintedBase = {
      root: '.',
      name: undefined,
      files: 1,
      records: 0,
      isUsable: false,
      findings: [finding],
      shown: [finding],
      fixes: new Map(),
    };
    const terminal = { columns: 80 } as Terminal;
    const [schemaCheck] = checks.filter(({ check }) => check === 'schema');
    const all = parse(toJunit([base], { terminal, version: '1.2.3', checks: schemaCheck ? [schemaCheck] : [] }));
    expect([all.tests, all.failures, all.errors]).toEqual(['2', '0', '2']);
    expect(all.testsuite[0].testcase.map((one: { error: { message: string } }) => one.error.message)).toEqual([
      'The config cannot be used, so nothing else was checked.',
      'Failed "here".',
    ]);
  });

  it('leaves out what XML does not allow and escapes the rest', () => {
    expect(escapeXml('a\u0000\u0001\u001b\ufffe\ud800b\t\n🐦')).toBe('ab\t\n🐦');
    expect(escapeXml('<a> & "b"\r')).toBe('&#60;a&#62; &#38; "b"&#13;');
    expect(escapeAttribute('"a"\t\'b\'\n]]>')).toBe('&#34;a&#34;&#9;&#39;b&#39;&#10;]]&#62;');
  });
});

describe('options', () => {
  it('--max-warnings fails a run with more warnings, and no other', async () => {
    const argv = ['--check', 'kept-powered', '--format', 'json'];
    expect(await lint(cwd, ...argv, '--max-warnings', '1')).toMatchObject({ code: 0, err: '' });
    expect(await lint(cwd, ...argv, '--max-warnings', '0')).toMatchObject({
      code: 1,
      err: 'swaplore: 1 warning, where --max-warnings allows 0.\n',
    });
    expect(await lint(cwd, ...argv, '--max-warnings', 'few')).toMatchObject({
      code: 2,
      err: 'swaplore: --max-warnings cannot be few; a whole number is needed.\n',
    });
  });

  it('--check runs the checks named, and no other', async () => {
    const { out, code } = await lint(cwd, '--check', 'kept-powered', '--check', 'look-alike-value', '--format', 'json');
    expect(JSON.parse(out).findings.map(({ check }: { check: string }) => check)).toEqual([
      'look-alike-value',
      'kept-powered',
    ]);
    expect(code).toBe(0);
    expect(await lint(cwd, '--check', 'kept-powerd')).toEqual({
      out: '',
      err: 'swaplore: Check `kept-powerd` is not known; the nearest is `kept-powered`.\n',
      code: 2,
    });
  });

  it('--quiet prints errors only, and counts everything', async () => {
    const loud = await lint(cwd);
    const quiet = await lint(cwd, '--quiet');
    expect(loud.out).toMatch(/^bench.* {2}info {2}look-alike-value$/m);
    expect(quiet.out).not.toMatch(/ (info|warning) {2}/);
    expect(quiet.out).toContain(': 4 errors, 1 warning, 1 note (5 files, 5 records)');
    expect(quiet.code).toBe(loud.code);
    const json = JSON.parse((await lint(cwd, '--quiet', '--format', 'json')).out);
    expect([json.findings.length, json.summary]).toEqual([5, { error: 5, warning: 1, info: 1 }]);
    expect((await lint(cwd, '--quiet', '--max-warnings', '0', '--check', 'kept-powered')).code).toBe(1);
  });

  it('--stats tells sizes, times and counts on standard error', async () => {
    const { out, err } = await lint(cwd, '--stats');
    expect(out).toBe((await lint(cwd)).out);
    const figures = Object.fromEntries(
      err
        .trimEnd()
        .split('\n')
        .map((line) => line.trim().split(/ {2,}/)),
    );
    const bytes = Object.values(files).reduce((sum, text) => sum + Buffer.byteLength(text), 0);
    expect(figures).toMatchObject({
      files: '7',
      records: '6',
      bytes: String(bytes),
      findings: '7',
      'unknown-key': '2',
    });
    for (const phase of ['find', 'load', 'check', 'locate', 'print']) {
      expect(figures[`${phase} ms`]).toMatch(/^\d+\.\d$/);
    }
  });
});

describe('what would mend a finding', () => {
  const maker = 'kind: maker\nid: wren\nname: 0040 # as printed\nouuis: [00-00-5E]\n';
  const folder = folderOf({ 'a/swaplore.yaml': 'swaplore: 1\n', 'a/wren.yaml': maker });
  const quoted = { start: { line: 2, character: 6 }, end: { line: 2, character: 10 } };
  const key = { start: { line: 3, character: 0 }, end: { line: 3, character: 5 } };

  it('stands in json as edits', async () => {
    const { out } = await lint(folder, '--format', 'json');
    const { findings } = JSON.parse(out);
    expect(findings.map(({ check, fixes }: Record<string, unknown>) => [check, fixes])).toEqual([
      [
        'schema',
        [
          {
            title: 'Put quotes round `0040`',
            kind: 'fix',
            edits: [{ file: 'a/wren.yaml', range: quoted, newText: '"0040"' }],
          },
        ],
      ],
      [
        'unknown-key',
        [
          {
            title: 'Rename it to `ouis`',
            kind: 'fix',
            edits: [{ file: 'a/wren.yaml', range: key, newText: 'ouis' }],
          },
          {
            title: 'Rename it to `x-ouuis`',
            kind: 'ask',
            edits: [{ file: 'a/wren.yaml', range: key, newText: 'x-ouuis' }],
          },
        ],
      ],
    ]);
  });

  it('stands in sarif as replacements', async () => {
    const { out } = await lint(folder, '--format', 'sarif');
    const [first] = JSON.parse(out).runs[0].results;
    expect(first.fixes).toEqual([
      {
        description: { text: 'Put quotes round `0040`' },
        artifactChanges: [
          {
            artifactLocation: { uri: 'a/wren.yaml', uriBaseId: '%SRCROOT%' },
            replacements: [
              {
                deletedRegion: { startLine: 3, startColumn: 7, endLine: 3, endColumn: 11 },
                insertedContent: { text: '"0040"' },
              },
            ],
          },
        ],
      },
    ]);
  });

  it('is left out where the file has no place for it', async () => {
    const taken = folderOf({ 'swaplore.yaml': 'swaplore: 1\n', 'wren.yaml': `${maker}ouis: [00-00-5E]\n` });
    const { findings } = JSON.parse((await lint(taken, '--format', 'json')).out);
    expect(findings[1].fixes.map(({ title }: { title: string }) => title)).toEqual(['Rename it to `x-ouuis`']);
  });
});
