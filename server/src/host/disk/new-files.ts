/** Files made in a folder, none of which takes the place of another. */
import { lstatSync } from 'node:fs';
import { join, posix } from 'node:path';
import type { NewFile } from '../../core/starting/new-file.ts';
import { reasonOf } from '../system-reason.ts';
import { writeNewFile } from './write-new-file.ts';

/** Why files cannot be made: the path at fault, and what it is, such as `is no folder`. */
interface Obstacle {
  readonly path: string;
  readonly reason: string;
}

/** What making files came to: paths as they were given. The first obstacle ends it, and what was written by then stays. */
export interface Made {
  readonly written: readonly string[];
  /** Paths where something else stood. */
  readonly taken: readonly string[];
  readonly obstacle: Obstacle | undefined;
}

/** What making files would come to. A link on the way to one is an obstacle, since it may lead elsewhere. */
export function lookAhead(folder: string, files: readonly NewFile[]): Made {
  const [written, taken]: [string[], string[]] = [[], []];
  for (const { path } of files) {
    const obstacle = findObstacle(folder, path);
    if (obstacle) return { written, taken, obstacle };
    try {
      (lstatSync(join(folder, path), { throwIfNoEntry: false }) ? taken : written).push(path);
    } catch (error) {
      return { written, taken, obstacle: { path, reason: `cannot be read: ${reasonOf(error)}` } };
    }
  }
  return { written, taken, obstacle: undefined };
}

/** Makes files one after the other, each whole or not at all. */
export function makeFiles(folder: string, files: readonly NewFile[]): Made {
  const [written, taken]: [string[], string[]] = [[], []];
  for (const { path, text } of files) {
    try {
      (writeNewFile(join(folder, path), text) ? written : taken).push(path);
    } catch (error) {
      return { written, taken, obstacle: { path, reason: `cannot be written: ${reasonOf(error)}` } };
    }
  }
  return { written, taken, obstacle: undefined };
}

/** The first folder on the way from `folder` down to a path that is there and none. */
function findObstacle(folder: string, path: string): Obstacle | undefined {
  const above = posix.dirname(path);
  if (above === '.') return undefined;
  const further = findObstacle(folder, above);
  if (further) return further;
  try {
    const stats = lstatSync(join(folder, above), { throwIfNoEntry: false });
    return stats && !stats.isDirectory() ? { path: above, reason: 'is no folder' } : undefined;
  } catch (error) {
    return { path: above, reason: `cannot be read: ${reasonOf(error)}` };
  }
}
