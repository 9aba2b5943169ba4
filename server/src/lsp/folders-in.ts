import type { SharedMap } from '../core/index/shared-map.ts';
import { remembered } from '../core/terms/remembered.ts';

/** The folders that hold these files, asked for whenever anything changes anywhere near them. */
export const foldersIn = remembered(
  (files: SharedMap<unknown>): ReadonlySet<string> => new Set([...files.keys()].flatMap(foldersAbove)),
);

/** The folders a path lies in, the base's own apart. */
export function foldersAbove(path: string): string[] {
  const steps = path.split('/');
  return steps.slice(1).map((_, depth) => steps.slice(0, depth + 1).join('/'));
}
