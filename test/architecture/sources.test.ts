import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { parseSource, projectRoot, type SourceFile, sourceFiles, visitAll } from '../harness/source-files.ts';

const server = sourceFiles('server/src');
const client = sourceFiles('client');
const core = server.filter(({ path }) => path.startsWith('server/src/core/'));
const written = [...client, ...server, ...sourceFiles('server/tools'), ...sourceFiles('schemas/tools')];
const tests = sourceFiles('test');

function linesWhere(files: readonly SourceFile[], find: (file: SourceFile) => readonly ts.Node[]): string[] {
  return files.flatMap((file) =>
    find(file).map((node) => {
      const { line } = file.tree.getLineAndCharacterOfPosition(node.getStart(file.tree));
      return `${file.path}:${line + 1}: ${file.text.split('\n')[line]?.trim()}`;
    }),
  );
}

function nodesOf({ tree }: SourceFile, is: (node: ts.Node) => boolean): ts.Node[] {
  const found: ts.Node[] = [];
  visitAll(tree, (node) => {
    if (is(node)) found.push(node);
  });
  return found;
}

function hasModifier(node: ts.Node, kind: ts.SyntaxKind): boolean {
  return ts.canHaveModifiers(node) && (ts.getModifiers(node) ?? []).some((modifier) => modifier.kind === kind);
}

function isDefaultExport(node: ts.Node): boolean {
  return (
    ts.isExportAssignment(node) ||
    hasModifier(node, ts.SyntaxKind.DefaultKeyword) ||
    (ts.isExportSpecifier(node) && node.name.text === 'default')
  );
}

/** Top-level exports without a doc comment before them. */
function undocumentedExports({ tree, text }: SourceFile): ts.Node[] {
  return tree.statements.filter((statement) => {
    const isExport = ts.isExportDeclaration(statement) || hasModifier(statement, ts.SyntaxKind.ExportKeyword);
    const comments = ts.getLeadingCommentRanges(text, statement.getFullStart()) ?? [];
    const isDocumented = comments.some(({ pos }) => text.startsWith('/**', pos));
    return isExport && !isDocumented;
  });
}

/** The clock, chance, console and surroundings, none of which the core may touch. */
const forbidden = new Set(['Date', 'console', 'process', 'fetch', 'performance', 'crypto', 'globalThis', 'setTimeout']);

function isImpure(node: ts.Node): boolean {
  if (!ts.isIdentifier(node)) return false;
  const { parent } = node;
  if (ts.isPropertyAccessExpression(parent) && parent.name === node)
    return node.text === 'random' && parent.expression.getText() === 'Math';
  const isOwnName =
    (ts.isPropertyAssignment(parent) || ts.isPropertySignature(parent) || ts.isPropertyDeclaration(parent)) &&
    parent.name === node;
  return forbidden.has(node.text) && !isOwnName;
}

describe('every file', () => {
  it('is named in kebab-case, for what it exports', () => {
    const name = /^[a-z0-9]+(-[a-z0-9]+)*(\.d)?\.(ts|mjs)$/;
    const testName = /^[a-z0-9]+(-[a-z0-9]+)*(\.(property\.)?test|\.d)?\.(ts|mjs|js)$/;
    const fileName = (path: string): string => path.split('/').at(-1) ?? '';
    expect(written.map(({ path }) => path).filter((path) => !name.test(fileName(path)))).toEqual([]);
    expect(tests.map(({ path }) => path).filter((path) => !testName.test(fileName(path)))).toEqual([]);
  });

  it('has a name that says more than utils, helpers, misc or common', () => {
    const vague = /(^|[/-])(utils?|helpers?|misc|common)([/.-]|$)/;
    expect([...written, ...tests].map(({ path }) => path).filter((path) => vague.test(path))).toEqual([]);
  });

  it('has no default export', () => {
    // A plug-in of another program exports what that program asks for.
    const plugIn = 'test/bench/programs/ajv-formats.ts';
    const files = [...written, ...tests, ...sourceFiles('schemas/gen')].filter(({ path }) => path !== plugIn);
    expect(linesWhere(files, (file) => nodesOf(file, isDefaultExport))).toEqual([]);
  });

  it('leaves nothing to be done later', () => {
    const marks = new RegExp(
      `\\b(${['TO', 'FIX'].map((start) => start + (start === 'TO' ? 'DO' : 'ME')).join('|')})\\b`,
    );
    const lines = [...written, ...tests].flatMap(({ path, text }) =>
      text.split('\n').flatMap((line, index) => (marks.test(line) ? [`${path}:${index + 1}: ${line.trim()}`] : [])),
    );
    expect(lines).toEqual([]);
  });
});

it('every exported symbol of the server and the extension has a doc comment', () => {
  expect(linesWhere([...client, ...server], undocumentedExports)).toEqual([]);
});

it('entry points only wire: under 60 lines', () => {
  const entries = [...client, ...server].filter(({ path }) => /^(client|server)\/src\/main-[^/]*$/.test(path));
  expect(entries.length).toBeGreaterThan(0);
  expect(entries.filter(({ text }) => text.split('\n').length > 60).map(({ path }) => path)).toEqual([]);
});

it('only entry points stand beside the folders of the server', () => {
  const loose = server.map(({ path }) => path).filter((path) => /^server\/src\/[^/]*$/.test(path));
  expect(loose.filter((path) => !path.startsWith('server/src/main-'))).toEqual([]);
});

describe('the core', () => {
  it('has no clock, no chance, no console and no surroundings', () => {
    expect(linesWhere(core, (file) => nodesOf(file, isImpure))).toEqual([]);
  });

  it('compiles without the types of Node and of browsers, and could not use either', () => {
    const configPath = `${projectRoot}server/src/core/tsconfig.json`;
    const { fileNames, options } = ts.parseJsonConfigFileContent(
      ts.readConfigFile(configPath, ts.sys.readFile).config,
      ts.sys,
      `${projectRoot}server/src/core`,
      undefined,
      configPath,
    );
    expect(fileNames.length).toBe(core.length);
    const probe = `${projectRoot}server/src/core/probe.ts`;
    const lines = [
      "import { readFileSync } from 'node:fs';",
      'export const a = process.argv;',
      'export const b = document.title;',
      'export const c = Buffer.from("");',
      'console.log(readFileSync);',
      'setTimeout(() => {}, 1);',
      'fetch("https://example.org");',
    ];
    const host = ts.createCompilerHost(options);
    const read = host.getSourceFile;
    host.getSourceFile = (name, ...rest) =>
      name === probe ? ts.createSourceFile(name, lines.join('\n'), ts.ScriptTarget.ES2022) : read(name, ...rest);
    const program = ts.createProgram({ rootNames: [...fileNames, probe], options, host });
    const found = ts.getPreEmitDiagnostics(program).map(({ file, start = 0, messageText }) => {
      const message = ts.flattenDiagnosticMessageText(messageText, '\n');
      return { name: file?.fileName ?? '', line: file?.getLineAndCharacterOfPosition(start).line, message };
    });
    expect(found.filter(({ name }) => name !== probe)).toEqual([]);
    expect(new Set(found.map(({ line }) => line))).toEqual(new Set(lines.keys()));
  });
});

describe('the guards themselves', () => {
  const parse = (text: string): SourceFile => parseSource('a.ts', text);

  it.each(['export default 1;', 'export default function a() {}', 'const a = 1; export { a as default };'])(
    'see a default export: %s',
    (text) => expect(nodesOf(parse(text), isDefaultExport)).toHaveLength(1),
  );

  it.each([
    'export const a = 1;',
    '// A note.\nexport function a(): void {}',
    '/* A note. */ export interface A {}',
    'export type A = 1;',
    "export { a } from './a.ts';",
    '/** A module. */\nimport "./a.ts";\nexport class A {}',
  ])('see an export without a doc comment: %s', (text) => expect(undocumentedExports(parse(text))).toHaveLength(1));

  it.each(['/** One. */\nexport const a = 1;', '/** One. */\n// biome-ignore format: one a line\nexport const a = 1;'])(
    'see a doc comment: %s',
    (text) => expect(undocumentedExports(parse(text))).toEqual([]),
  );

  it.each(['new Date()', 'Date.now()', 'const now = Date;', 'Math.random()', 'console.log(1)', 'process.env'])(
    'see what the core may not touch: %s',
    (text) => expect(nodesOf(parse(text), isImpure)).toHaveLength(1),
  );

  it.each(['Math.max(1)', 'a.process', 'const a = { process: 1 };', 'const text = "Date";', '// console'])(
    'are quiet about: %s',
    (text) => expect(nodesOf(parse(text), isImpure)).toEqual([]),
  );
});
