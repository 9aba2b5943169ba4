import { configPath } from '../../core/checks/config-invalid.ts';
import type { Tree } from './read-tree.ts';

/** The folders of a tree that hold a config, by path; the top is the empty path. Hidden folders and `node_modules` are not entered. */
export function basesIn(tree: Tree): readonly string[] {
  const found: string[] = [];
  for (const [path, { kind }] of tree) {
    if (kind === 'submodule' || !(path === configPath || path.endsWith(`/${configPath}`))) continue;
    const folder = path.slice(0, -configPath.length - 1);
    if (!folder.split('/').some((part) => part.startsWith('.') || part === 'node_modules')) found.push(folder);
  }
  return found.sort();
}

/** Of these folders the nearest at or above one, else all those below it. */
export function basesAround(bases: readonly string[], folder: string): readonly string[] {
  const holds = (outer: string, inner: string): boolean =>
    outer === '' || inner === outer || inner.startsWith(`${outer}/`);
  const above = bases.filter((base) => holds(base, folder)).sort((a, b) => b.length - a.length);
  return above.length > 0 ? above.slice(0, 1) : bases.filter((base) => holds(folder, base));
}
