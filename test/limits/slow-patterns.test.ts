import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { slownessOf } from '../harness/slow-pattern.ts';
import { type SourceFile, sourceFiles, visitAll } from '../harness/source-files.ts';

/** What may stand in patterns that are put together, by file and by what is put in. Ids and keys stand for themselves. */
const putIn: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>> = {
  'server/src/core/checks/given-condition.ts': { id: ['given-condition'] },
  'server/src/core/features/blanks.ts': { blankMark: ['to-be-filled-in-'] },
  'server/src/core/features/rename-id.ts': { id: ['d-0117', 'tern-2-3-4'] },
  'server/src/core/importing/read-date.ts': {
    // Forms of all separators there are; those in which fields touch have fields of a fixed length.
    "sources.join('')": [
      '(\\d{4})(\\d{2})(\\d{2})',
      '(\\d{1,2})\\.(\\d{1,2})\\.(\\d{2})',
      '(\\d{1,2})- /\\.W(\\d{1,2})-(\\d{4})',
    ],
  },
  'server/src/core/model/recover-ids.ts': { key: ['kind', 'id'] },
  'server/src/core/terms/date-code.ts': { source: ['(\\d{4})(\\d{2})(\\d{1})', 'L\\(\\d(\\d{2})\\.(\\d{2})'] },
};

/** Patterns of which the guard says too much, each with what it does not see. */
const notSlow: Readonly<Record<string, string>> = {
  '/^(?=.*YY)(?:YYYY(?!Y)|YY(?!Y)|WW(?!W)|MM(?!M)|DD?(?!D)|[^\\p{L}\\p{N}])+$/u':
    'It counts lookaheads as met: with them, letters that stand together are one field or none.',
};

interface Found {
  readonly pattern: RegExp;
  /** File and line. */
  readonly at: string;
}

const files = ['server/src', 'client/src', 'schemas/gen'].flatMap(sourceFiles);
const used = new Set<string>();
const patterns = files.flatMap(patternsIn);

/** The patterns a file writes down or puts together. */
function patternsIn({ path, tree }: SourceFile): Found[] {
  const found: Found[] = [];
  visitAll(tree, (node) => {
    const { line } = tree.getLineAndCharacterOfPosition(node.getStart(tree));
    const add = (source: string, flags: string): void =>
      void found.push({ pattern: new RegExp(source, flags), at: `${path}:${line + 1}` });
    if (ts.isRegularExpressionLiteral(node)) {
      const end = node.text.lastIndexOf('/');
      add(node.text.slice(1, end), node.text.slice(end + 1));
    }
    const isMade =
      (ts.isNewExpression(node) || ts.isCallExpression(node)) && node.expression.getText(tree) === 'RegExp';
    if (!isMade) return;
    const [source, flags] = node.arguments ?? [];
    for (const made of textsOf(path, source)) add(made, flags && ts.isStringLiteral(flags) ? flags.text : '');
  });
  return found;
}

/** What a source comes to, with all that may be put in. */
function textsOf(path: string, source: ts.Expression | undefined): readonly string[] {
  if (source && ts.isStringLiteralLike(source)) return [source.text];
  if (!source || !ts.isTemplateExpression(source)) throw new Error(`${path}: ${source?.getText()} says no pattern.`);
  return source.templateSpans.reduce<readonly string[]>(
    (texts, { expression, literal }) => {
      const name = expression.getText();
      const values = putIn[path]?.[name];
      if (!values) throw new Error(`${path}: what \`${name}\` puts into a pattern is to be listed.`);
      used.add(`${path}: ${name}`);
      return texts.flatMap((text) => values.map((value) => text + value + literal.text));
    },
    [source.head.text],
  );
}

describe('no pattern takes more time than the length of a text', () => {
  it('in the server, in the extension and in what checks records against schemas', () => {
    const judged = patterns.filter(({ pattern }) => !(String(pattern) in notSlow));
    expect(
      judged.flatMap(({ pattern, at }) => slownessOf(pattern).map((reason) => `${at}: ${pattern}: ${reason}`)),
    ).toEqual([]);
  });

  it('and each that is excused is there, and would be called slow', () => {
    const excused = patterns.filter(({ pattern }) => String(pattern) in notSlow);
    expect(excused.map(({ pattern }) => String(pattern))).toEqual(Object.keys(notSlow));
    expect(excused.filter(({ pattern }) => slownessOf(pattern).length === 0)).toEqual([]);
  });

  it('and all that is listed as put into patterns is put into one', () => {
    const listed = Object.entries(putIn).flatMap(([path, names]) =>
      Object.keys(names).map((name) => `${path}: ${name}`),
    );
    expect(listed).toEqual([...used].sort());
  });
});

describe('the guard itself', () => {
  it.each([
    /(a+)+$/,
    /\s+$/,
    /a*b?a*$/,
    /^a*b?a*$/,
    /(\d+)*x/,
    /.*,.*,.*$/,
    /^(a|a)*$/,
    /^(?:\w|\d)*$/,
    /^(?:ab?|b)*$/,
    /^(?:a|b|ab)+$/,
    /^(?:a?a)*$/,
    /^(?:a{1,2})*$/,
    /^(?:\s*x\s*)*$/,
    /^(?:a|a){20}$/,
    /^(?:(?=a)a|ab?|b)*$/,
  ])('sees that %s is slow', (pattern) => expect(slownessOf(pattern)).not.toEqual([]));

  it.each([
    /a+/,
    /^a+$/,
    /^\s*a\s*$/,
    /"(?:[^"\\]|\\.)*"/y,
    /^(?:[\w.-]+\/)*$/,
    /^(?:ab?|c)*$/,
    /^(?:a{2})*$/,
    /^(?:a|a){3}$/,
    /^[0-9a-f]{16,64}$/,
  ])('is quiet about %s', (pattern) => expect(slownessOf(pattern)).toEqual([]));
});
