import { globTest } from '../text/glob.ts';

/**
 * Invariant 8: the one place that says which paths below a base belong to it. `path` is relative to the base, with `/`. Adapters ask
 * for folders too, so as not to walk what will be skipped; whether a nearer `swaplore.yaml` claims a folder is theirs to see.
 */
export class BasePaths {
  private readonly ignored: readonly ((path: string) => boolean)[];

  constructor(ignore: readonly string[]) {
    this.ignored = ignore.map(globTest);
  }

  /** Whether the base's files may lie in this folder. */
  canHold(folder: string): boolean {
    return !hasHiddenPart(folder) && !this.ignored.some((test) => test(folder) || test(`${folder}/`));
  }

  /** Whether this is a file of records in a folder that can hold them. */
  belongs(path: string): boolean {
    const parts = path.split('/');
    return (
      this.isRecordFile(path) && parts.every((_, depth) => depth === 0 || this.canHold(parts.slice(0, depth).join('/')))
    );
  }

  /** Whether this is a file of records, its folders apart. */
  isRecordFile(path: string): boolean {
    return (
      /\.ya?ml$/.test(path) &&
      path !== 'swaplore.yaml' &&
      !hasHiddenPart(path) &&
      !this.ignored.some((test) => test(path))
    );
  }
}

function hasHiddenPart(path: string): boolean {
  return path.split('/').some((part) => part.startsWith('.') || part === 'node_modules');
}
