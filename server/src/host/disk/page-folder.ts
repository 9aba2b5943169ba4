/** A folder of pages. What somebody else put there is never replaced. */
import { closeSync, lstatSync, openSync, readSync } from 'node:fs';
import { join } from 'node:path';
import { reasonOf } from '../system-reason.ts';
import { writeAtomically } from './write-atomically.ts';

/** A page by the name of its file. */
interface FilePage {
  /** A mere name. */
  readonly file: string;
  /** Makes the page. */
  readonly html: () => string;
}

/** Why pages were not written: the path at fault, and what it is or does, such as `is a folder`. */
export interface NotWritten {
  readonly path: string;
  readonly reason: string;
  /** Whether something else stands in a page's place. */
  readonly isTaken: boolean;
}

/**
 * Writes pages into a folder, which is made where there is none. Where one of them would replace a file that does not bear the mark, none is written.
 * Gives undefined where all were written.
 */
export function writePages(folder: string, pages: readonly FilePage[], mark: string): NotWritten | undefined {
  for (const { file } of pages) {
    const reason = whyTaken(join(folder, file), mark);
    if (reason !== undefined) return { path: join(folder, file), reason, isTaken: true };
  }
  for (const { file, html } of pages) {
    const path = join(folder, file);
    try {
      writeAtomically(path, Buffer.from(html()), 'shared');
    } catch (error) {
      return { path, reason: `cannot be written: ${reasonOf(error)}`, isTaken: false };
    }
  }
  return undefined;
}

/** Bytes of a file within which a mark has to stand. */
const markWithin = 1000;

/** What stands in the way of a page; undefined where nothing does, or an older page with the mark. */
function whyTaken(path: string, mark: string): string | undefined {
  try {
    const stats = lstatSync(path, { throwIfNoEntry: false });
    if (!stats) return undefined;
    if (!stats.isFile()) return 'is no regular file';
    return beginningOf(path).includes(mark) ? undefined : 'holds something else';
  } catch (error) {
    return `cannot be read: ${reasonOf(error)}`;
  }
}

function beginningOf(path: string): string {
  const handle = openSync(path, 'r');
  try {
    const bytes = Buffer.alloc(markWithin);
    return bytes.toString('utf8', 0, readSync(handle, bytes));
  } finally {
    closeSync(handle);
  }
}
