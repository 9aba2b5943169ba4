import type { Snapshot, Standing } from '../index/snapshot.ts';
import { BasePaths } from '../model/base-path.ts';
import type { AnyRecord } from '../model/record.ts';
import { type Kind, pluralOf } from '../terms/kinds.ts';
import type { OpenFile } from './open-file.ts';

/** A file that a new record can go into. */
interface Home {
  readonly file: string;
  /** Undefined where the file is yet to be made. */
  readonly contentId: string | undefined;
}

/**
 * Where a base would have a record of a kind with an id. Where most records of the kind share a file with others of it, behind those
 * with the nearest id, else in a file of its own beside that of the nearest. Where there are none of the kind: in a folder named for
 * it. In a base of one file, in that. Undefined where no such file could belong to the base.
 */
export function homeFor({
  file,
  kind,
  id,
}: {
  readonly file: OpenFile;
  readonly kind: Kind;
  readonly id: string;
}): Home | undefined {
  const { snapshot } = file;
  if (snapshot.files.size === 1) return homeAt(snapshot, file.path);
  const { nearest, isShared } = standingsOf(snapshot, kind, id);
  return homeAt(snapshot, nearest && isShared ? nearest.file.path : ownFileFor(snapshot, kind, id));
}

/** Path of a file of its own for a record of a kind with an id: beside that of the nearest id, else in a folder named for the kind. */
export function ownFileFor(snapshot: Snapshot, kind: Kind, id: string): string {
  const path = standingsOf(snapshot, kind, id).nearest?.file.path;
  if (path !== undefined) return `${path.slice(0, path.lastIndexOf('/') + 1)}${id}${path.slice(path.lastIndexOf('.'))}`;
  const paths = [...snapshot.files.keys()];
  const isFlat = paths.length > 0 && paths.every((other) => !other.includes('/'));
  return isFlat ? `${id}.yaml` : `${pluralOf(kind)}/${id}.yaml`;
}

/** A file that is there already is added to, whatever it holds: nothing is overwritten. */
function homeAt(snapshot: Snapshot, file: string): Home | undefined {
  const there = snapshot.files.get(file);
  if (there) return { file, contentId: there.contentId };
  return new BasePaths(snapshot.config.ignore).belongs(file) ? { file, contentId: undefined } : undefined;
}

/** The record of a kind whose id begins most like another, the first by id of several, and whether most share a file with others. */
function standingsOf(
  snapshot: Snapshot,
  kind: Kind,
  id: string,
): { readonly nearest: Standing | undefined; readonly isShared: boolean } {
  const perFile = new Map<string, number>();
  let nearest: Standing | undefined;
  let most = -1;
  const records = snapshot.records(kind) as readonly AnyRecord[];
  for (const record of records) {
    const standing = snapshot.locate(record);
    const { path } = standing.file;
    perFile.set(path, (perFile.get(path) ?? 0) + 1);
    const length = commonLength(record.id, id);
    if (length > most) [nearest, most] = [standing, length];
  }
  let sharing = 0;
  for (const count of perFile.values()) if (count > 1) sharing += count;
  return { nearest, isShared: 2 * sharing > records.length };
}

function commonLength(a: string, b: string): number {
  let length = 0;
  while (length < a.length && a[length] === b[length]) length++;
  return length;
}
