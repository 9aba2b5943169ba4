import { createHash } from 'node:crypto';
import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { writeAtomically } from './write-atomically.ts';

/** A text that is kept for one user until what it was begun for is done, such as the answers of an interrupted recording. */
export class Draft {
  private readonly path: string;

  /** The draft of one kind for the base in a folder, kept in the user's own folder. */
  constructor(folder: string, root: string, kind: string) {
    const base = createHash('sha256').update(root).digest('hex').slice(0, 16);
    this.path = join(folder, 'drafts', `${base}-${kind}.json`);
  }

  /** What was kept; undefined where nothing was, or it cannot be read. */
  read(): string | undefined {
    try {
      return readFileSync(this.path, 'utf8');
    } catch {
      return undefined;
    }
  }

  /** Keeps a text in place of what was kept; gives whether it could be. */
  keep(text: string): boolean {
    try {
      writeAtomically(this.path, new TextEncoder().encode(text), 'own');
      return true;
    } catch {
      return false;
    }
  }

  remove(): void {
    rmSync(this.path, { force: true });
  }
}
