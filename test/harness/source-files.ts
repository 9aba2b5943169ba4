import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

/** Folder of the project. */
export const projectRoot = fileURLToPath(new URL('../../', import.meta.url));

/** A file of code with its syntax tree. `path` is relative to the project, with `/`. */
export interface SourceFile {
  readonly path: string;
  readonly text: string;
  readonly tree: ts.SourceFile;
}

/** The files of code below a folder of the project, by path. What is installed or built there is not the project's. */
export function sourceFiles(folder: string): SourceFile[] {
  return pathsBelow(folder)
    .filter((path) => /\.(ts|js|mjs|cjs)$/.test(path))
    .sort()
    .map((path) => parseSource(path, readFileSync(join(projectRoot, path), 'utf8')));
}

function pathsBelow(folder: string): string[] {
  return readdirSync(join(projectRoot, folder), { withFileTypes: true }).flatMap((entry) => {
    if (!entry.isDirectory()) return [`${folder}/${entry.name}`];
    return ['node_modules', 'dist'].includes(entry.name) ? [] : pathsBelow(`${folder}/${entry.name}`);
  });
}

/** A text as a file of code. */
export function parseSource(path: string, text: string): SourceFile {
  return { path, text, tree: ts.createSourceFile(path, text, ts.ScriptTarget.ES2022, true) };
}

/** Everything a file imports, however it does so: the names of modules as written. */
export function importsOf({ tree }: SourceFile): string[] {
  const found: string[] = [];
  const add = (node: ts.Node | undefined): void => {
    if (node && ts.isStringLiteralLike(node)) found.push(node.text);
  };
  visitAll(tree, (node) => {
    if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) add(node.moduleSpecifier);
    if (ts.isExternalModuleReference(node)) add(node.expression);
    if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) add(node.argument.literal);
    if (ts.isCallExpression(node)) {
      const isImport = node.expression.kind === ts.SyntaxKind.ImportKeyword;
      const isRequire = ts.isIdentifier(node.expression) && node.expression.text === 'require';
      if (isImport || isRequire) add(node.arguments[0]);
    }
  });
  return found;
}

/** Calls `visit` on every node of a tree. */
export function visitAll(tree: ts.Node, visit: (node: ts.Node) => void): void {
  visit(tree);
  tree.forEachChild((child) => visitAll(child, visit));
}
