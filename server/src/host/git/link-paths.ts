import type { Tree } from './read-tree.ts';

/** Where a path of a tree leads when links are followed; outside: a link on the way leads out of the tree. */
export type Led =
  | { readonly to: 'file'; readonly path: string; readonly id: string }
  | { readonly to: 'folder' | 'submodule' | 'nothing' | 'outside' | 'itself' };

/** Links on one way. Source: Linux, path_resolution(7), which gives up after 40. */
const mostLinks = 40;

/** Follows links within one tree. No link is followed out of it (invariant 8). */
export class LinkPaths {
  private folders: ReadonlySet<string> | undefined;

  /** `targets`: what the links of the tree say, by the ids of their contents; of one that is left out nothing is known. */
  constructor(
    private readonly tree: Tree,
    private readonly targets: ReadonlyMap<string, string>,
  ) {}

  /** Whether this is a folder of the tree. */
  isFolder(path: string): boolean {
    this.folders ??= foldersOf(this.tree);
    return path === '' || this.folders.has(path);
  }

  /** Where a path leads. */
  follow(path: string): Led {
    let at: string[] = [];
    const ahead = path.split('/').reverse();
    let links = 0;
    for (let part = ahead.pop(); part !== undefined; part = ahead.pop()) {
      if (part === '' || part === '.') continue;
      if (part === '..') {
        if (at.length === 0) return { to: 'outside' };
        at = at.slice(0, -1);
        continue;
      }
      const here = [...at, part].join('/');
      const entry = this.tree.get(here);
      if (entry?.kind === 'link') {
        if (++links > mostLinks) return { to: 'itself' };
        const target = this.targets.get(entry.id) ?? '';
        if (target === '') return { to: 'nothing' };
        if (target.startsWith('/')) return { to: 'outside' };
        ahead.push(...target.split('/').reverse());
      } else if (entry?.kind === 'submodule') return { to: 'submodule' };
      else if (entry) return ahead.length === 0 ? { to: 'file', path: here, id: entry.id } : { to: 'nothing' };
      else if (this.isFolder(here)) at.push(part);
      else return { to: 'nothing' };
    }
    return { to: 'folder' };
  }
}

function foldersOf(tree: Tree): ReadonlySet<string> {
  const folders = new Set<string>();
  for (const path of tree.keys()) {
    for (let end = path.lastIndexOf('/'); end > 0; end = path.lastIndexOf('/', end - 1)) {
      const folder = path.slice(0, end);
      if (folders.has(folder)) break;
      folders.add(folder);
    }
  }
  return folders;
}
