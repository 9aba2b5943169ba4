import { spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import ts from 'typescript';
import { expect, it, onTestFinished } from 'vitest';
import { projectRoot } from '../harness/source-files.ts';

/**
 * The worked examples of DEVELOPERS.md, laid into a copy of the project as they are printed: a block is the file named in bold just
 * above it, or lines of that file to go before the line that stands there.
 */
const block = /(?:Before the line `(.+)` of )?\*\*((?:schemas|server|test)\/\S+)\*\*:\n\n```\w+\n([\s\S]*?)```\n/g;
const tables = ['test/checks/examples.test.ts', 'test/schemas/schemas.test.ts'];
const copied = ['client/src', 'schemas', 'server/src', 'test/harness', 'package.json', 'tsconfig.json', ...tables];

interface Part {
  readonly path: string;
  /** The line of a file there is that this goes before; undefined where this is the whole of a new file. */
  readonly before: string | undefined;
  readonly text: string;
}

const guide = readFileSync(join(projectRoot, 'DEVELOPERS.md'), 'utf8');
const parts = [...guide.matchAll(block)].map(([, before, path = '', text = '']): Part => ({ path, before, text }));
const sources = parts.map(({ path }) => path).filter((path) => !path.startsWith('test/'));
const tests = parts.map(({ path }) => path).filter((path) => path.startsWith('test/'));

it('a check, a key and a report take one file and one test each', () => {
  expect(sources.map(dirname)).toEqual(['server/src/core/checks', 'schemas', 'server/src/core/reports']);
  expect(tests.map(dirname)).toEqual(['test/checks', 'test/schemas', 'test/reports']);
  const copy = copyOfProject();
  for (const part of parts) lay(part, copy);

  const generated = run(copy, ['--import', 'tsx', 'schemas/tools/gen.ts']);
  const written = [...generated.matchAll(/^(\S+) written$/gm)].map(([, path = '']) => path);
  const changed = [...written, ...sources, ...tests].sort();
  expect(differences(copy)).toEqual(changed);
  for (const path of written) expect(readFileSync(join(copy, path), 'utf8'), path).toContain('`npm run gen`');
  expect(faultsIn(copy, changed)).toEqual([]);

  // Titles say what is tried, so that of the two tables only the rows of the examples are.
  const found = resultsOf(copy, ['ready-after-power-off', 'opened', 'shelf']);
  expect(found.filter(({ path, status }) => tests.includes(path) && status !== 'passed')).toEqual([]);
  const passed = found.filter(({ status }) => status === 'passed').map(({ path, title }) => `${path}: ${title}`);
  expect(new Set(found.map(({ path }) => path))).toEqual(new Set([...tests, ...tables]));
  expect(passed).toEqual(
    expect.arrayContaining([
      'test/checks/examples.test.ts: ready-after-power-off has an example that fires and a near miss that does not',
      expect.stringMatching(/schemas\.test\.ts: .*drive\.schema\.json#\/properties\/opened takes its examples/),
    ]),
  );
});

/** What of the project the generator, the compiler and these tests read, in a folder of its own that goes after the test. */
function copyOfProject(): string {
  const copy = realpathSync(mkdtempSync(join(tmpdir(), 'swaplore-worked-')));
  onTestFinished(() => rmSync(copy, { recursive: true }));
  for (const path of copied) cpSync(join(projectRoot, path), join(copy, path), { recursive: true });
  symlinkSync(join(projectRoot, 'node_modules'), join(copy, 'node_modules'));
  writeFileSync(join(copy, 'alone.mjs'), "export default { test: { pool: 'forks', isolate: false } };");
  return copy;
}

/** Puts a block into the copy. */
function lay({ path, before, text }: Part, copy: string): void {
  const file = join(copy, path);
  if (before === undefined) {
    expect(existsSync(join(projectRoot, path)), `${path} is there already`).toBe(false);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
    return;
  }
  const lines = readFileSync(file, 'utf8').split('\n');
  const at = lines.flatMap((line, number) => (line.trim() === before ? [number] : []));
  expect(at, `lines \`${before}\` of ${path}`).toHaveLength(1);
  writeFileSync(file, [...lines.slice(0, at[0]), ...text.trimEnd().split('\n'), ...lines.slice(at[0])].join('\n'));
}

/** What a program of Node prints in the copy, in none of the surroundings of this test. */
function run(copy: string, args: readonly string[]): string {
  const { PATH } = process.env;
  const { stdout, stderr, status } = spawnSync(process.execPath, args, { cwd: copy, encoding: 'utf8', env: { PATH } });
  expect(status, stdout + stderr).toBe(0);
  return stdout;
}

interface Result {
  readonly path: string;
  readonly title: string;
  readonly status: string;
}

/** What came of the tests in the copy; those whose titles hold none of these words are skipped. */
function resultsOf(copy: string, words: readonly string[]): readonly Result[] {
  const options = ['--config', 'alone.mjs', '--reporter', 'json', '--testNamePattern', words.join('|')];
  const { testResults } = JSON.parse(run(copy, ['node_modules/vitest/vitest.mjs', 'run', ...options])) as {
    testResults: { name: string; assertionResults: { fullName: string; status: string }[] }[];
  };
  return testResults.flatMap(({ name, assertionResults }) =>
    assertionResults.map(({ fullName, status }) => ({ path: relative(copy, name), title: fullName, status })),
  );
}

/** The files of the copy that the project lacks or has with other content, sorted. */
function differences(copy: string): readonly string[] {
  return ['client', 'package.json', 'schemas', 'server', 'test', 'tsconfig.json']
    .flatMap((path) => filesAt(copy, path))
    .filter((path) => {
      const own = join(projectRoot, path);
      return !existsSync(own) || !readFileSync(own).equals(readFileSync(join(copy, path)));
    })
    .sort();
}

function filesAt(copy: string, path: string): readonly string[] {
  if (!statSync(join(copy, path)).isDirectory()) return [path];
  return readdirSync(join(copy, path)).flatMap((name) => filesAt(copy, `${path}/${name}`));
}

/** What the compiler objects to in those of these files that are code. */
function faultsIn(copy: string, paths: readonly string[]): readonly string[] {
  const { config } = ts.readConfigFile(join(copy, 'tsconfig.json'), ts.sys.readFile);
  const { options } = ts.convertCompilerOptionsFromJson(config.compilerOptions, copy);
  const rootNames = paths.filter((path) => path.endsWith('.ts')).map((path) => join(copy, path));
  const program = ts.createProgram({ rootNames, options });
  return rootNames.flatMap((name) =>
    ts
      .getPreEmitDiagnostics(program, program.getSourceFile(name))
      .map(({ messageText }) => `${relative(copy, name)}: ${ts.flattenDiagnosticMessageText(messageText, '\n')}`),
  );
}
