import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { type SourceFile, sourceFiles, visitAll } from '../harness/source-files.ts';

/** A law as a module states it, and the file that tests it. */
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

/** A test or a group of tests; `name` is undefined where it is no plain text, so that nobody can say what it tests. */
interface Named {
  readonly what: 'it' | 'describe';
  readonly name: string | undefined;
}

/** The tests and groups of a file. */
function testsIn({ tree }: SourceFile): Named[] {
  const found: Named[] = [];
  visitAll(tree, (node) => {
    if (!ts.isCallExpression(node)) return;
    const [called = ''] = /^(it|test|describe)\b/.exec(node.expression.getText(tree)) ?? [];
    if (called === '') return;
    const [name] = node.arguments;
    const isPlain = ts.isIdentifier(node.expression) && name && ts.isStringLiteral(name);
    found.push({ what: called === 'describe' ? 'describe' : 'it', name: isPlain ? name.text : undefined });
  });
  return found;
}

const modules = sourceFiles('server/src');
const laws = modules.flatMap(lawsOf);
const tests = new Map(sourceFiles('test').map((file) => [file.path, testsIn(file)]));
const propertyTests = [...tests].filter(([path]) => path.endsWith('.property.test.ts'));

describe('laws', () => {
  it('are found wherever a module speaks of them', () => {
    const speaking = modules.filter(({ text }) => /\bLaws \(/.test(text)).map(({ path }) => path);
    expect([...new Set(laws.map(({ module }) => module))]).toEqual(speaking);
    expect(laws.length).toBeGreaterThan(speaking.length);
  });

  // In a file of examples a law may head a group of them.
  it.each(laws.map((law) => [law.module, law.law, law.test]))('%s: %s', (_, law, test) => {
    const isProperty = test.endsWith('.property.test.ts');
    const named = (tests.get(test) ?? []).filter(({ what }) => what === 'it' || !isProperty);
    expect(named.map(({ name }) => name)).toContain(law);
  });

  it.each(propertyTests)('%s tests them and nothing else', (path, named) => {
    const stated = new Set<string | undefined>(laws.filter(({ test }) => test === path).map(({ law }) => law));
    expect(named.filter(({ what, name }) => what === 'it' && !stated.has(name))).toEqual([]);
  });
});
