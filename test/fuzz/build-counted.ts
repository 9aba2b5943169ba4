import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import ts from 'typescript';
import { projectRoot } from '../harness/source-files.ts';
import { countsName } from './coverage.ts';

/** Something that is put into a source, at an offset of it. */
type Insertion = readonly [offset: number, text: string];

/**
 * Bundles a module with all of the program built so that every block says it was entered: bodies, branches and right sides of `&&`, `||`, `??`.
 * Gives the path of the bundle.
 */
export async function buildCounted(entry: string): Promise<string> {
  let blocks = 0;
  const outfile = join(projectRoot, 'node_modules/.fuzz/campaign.mjs');
  const built = await build({
    entryPoints: [entry],
    ...{ outfile, write: false, bundle: true, packages: 'external', platform: 'node', target: 'node20', format: 'esm' },
    plugins: [
      {
        name: 'count-blocks',
        setup: ({ onLoad }) =>
          onLoad({ filter: /\.ts$/ }, ({ path }) => {
            const text = readFileSync(path, 'utf8');
            const isCounted = /[\\/]server[\\/]src[\\/]/.test(path);
            // What looks for files beside itself has to find them.
            const own = text.replaceAll('import.meta.url', JSON.stringify(pathToFileURL(path).href));
            return { contents: isCounted ? counted(path, own, () => blocks++) : own, loader: 'ts' };
          }),
      },
    ],
  });
  // In words of four bytes, so that it can be looked through quickly.
  const bytes = 4 * Math.ceil(blocks / 4);
  const bundle = built.outputFiles[0]?.text ?? '';
  mkdirSync(dirname(outfile), { recursive: true });
  writeFileSync(outfile, `globalThis.${countsName} = new Uint8Array(${bytes});\n${bundle}`);
  return outfile;
}

/** A source that counts how often each of its blocks is entered. `next` gives the number of the next block. */
function counted(path: string, text: string, next: () => number): string {
  const tree = ts.createSourceFile(path, text, ts.ScriptTarget.ES2022, true);
  const insertions: Insertion[] = [];
  const count = (): string => `blockCounts_[${next()}]++`;
  const enter = (offset: number): void => void insertions.push([offset, `${count()};`]);
  const wrap = (node: ts.Node, open: string, close: string): void => {
    insertions.push([node.getStart(tree), open]);
    ts.forEachChild(node, visit);
    insertions.push([node.getEnd(), close]);
  };
  const expression = (node: ts.Node): void => wrap(node, `(${count()},`, ')');
  const statement = (node: ts.Node): void => {
    if (ts.isBlock(node)) visit(node);
    else wrap(node, `{${count()};`, '}');
  };
  const visit = (node: ts.Node): void => {
    if (ts.isConditionalExpression(node)) {
      visit(node.condition);
      expression(node.whenTrue);
      expression(node.whenFalse);
    } else if (ts.isBinaryExpression(node) && shortCuts.has(node.operatorToken.kind)) {
      visit(node.left);
      expression(node.right);
    } else if (ts.isArrowFunction(node) && !ts.isBlock(node.body)) {
      for (const parameter of node.parameters) visit(parameter);
      expression(node.body);
    } else if (ts.isIfStatement(node)) {
      visit(node.expression);
      statement(node.thenStatement);
      if (node.elseStatement) statement(node.elseStatement);
    } else {
      if (ts.isBlock(node)) enter(node.getStart(tree) + 1);
      if (ts.isCaseOrDefaultClause(node) && node.statements[0]) enter(node.statements[0].getStart(tree));
      ts.forEachChild(node, visit);
    }
  };
  visit(tree);
  const sorted = insertions.map((insertion, order) => ({ insertion, order })).sort(byOffset);
  let [after, at] = [`const blockCounts_ = globalThis.${countsName};`, 0];
  for (const { insertion } of sorted) {
    after += text.slice(at, insertion[0]) + insertion[1];
    at = insertion[0];
  }
  return after + text.slice(at);
}

interface Ordered {
  readonly insertion: Insertion;
  readonly order: number;
}

function byOffset(a: Ordered, b: Ordered): number {
  return a.insertion[0] - b.insertion[0] || a.order - b.order;
}

const shortCuts: ReadonlySet<ts.SyntaxKind> = new Set([
  ts.SyntaxKind.AmpersandAmpersandToken,
  ts.SyntaxKind.BarBarToken,
  ts.SyntaxKind.QuestionQuestionToken,
]);
