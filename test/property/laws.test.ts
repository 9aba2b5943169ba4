import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { type SourceFile, sourceFiles, visitAll } from '../harness/source-files.ts';

/** A law as a module of the core states it, and the file that tests it. */
interface Law {
  readonly module: string;
  readonly test: string;
  readonly law: string;
}

/** The bullets under `Laws (…):`, each with the lines it goes on over. */
function lawsOf({ path, text }: SourceFile): Law[] {
  return [...text.matchAll(/^ \* Laws \(([^)]*)\):\n((?: \* {1,3}\S.*\n)+)/gm)].flatMap(([, test = '', lines = '']) =>
    lines
      .split(/^ \* - /m)
      .slice(1)
      .map((bullet) => ({ module: path, test, law: bullet.replaceAll(/\n \* {3}/g, ' ').trim() })),
  );
}

/** The names of the tests in a file; undefined for one whose name or way of being called hides what it tests. */
function testsIn({ tree }: SourceFile): (string | undefined)[] {
  const names: (string | undefined)[] = [];
  visitAll(tree, (node) => {
    if (!ts.isCallExpression(node) || !/^(it|test)\b/.test(node.expression.getText(tree))) return;
    const [name] = node.arguments;
    const isPlain = ts.isIdentifier(node.expression) && name && ts.isStringLiteral(name);
    names.push(isPlain ? name.text : undefined);
  });
  return names;
}

const modules = sourceFiles('server/src/core');
const laws = modules.flatMap(lawsOf);
const tests = sourceFiles('test/property')
  .filter(({ path }) => path.endsWith('.property.test.ts'))
  .map((file) => ({ path: file.path, names: testsIn(file) }));

describe('laws', () => {
  it('are found wherever a module speaks of them', () => {
    const speaking = modules.filter(({ text }) => /\bLaws \(/.test(text)).map(({ path }) => path);
    expect([...new Set(laws.map(({ module }) => module))]).toEqual(speaking);
    expect(laws.length).toBeGreaterThan(speaking.length);
  });

  it.each(laws.map((law) => [law.module, law.law, law.test]))('%s: %s', (_, law, test) => {
    expect(tests.find(({ path }) => path === test)?.names).toContain(law);
  });

  it.each(tests.map(({ path, names }) => [path, names] as const))('%s tests them and nothing else', (path, names) => {
    const stated = laws.filter(({ test }) => test === path).map(({ law }): string | undefined => law);
    expect(names.filter((name) => !stated.includes(name))).toEqual([]);
  });
});
