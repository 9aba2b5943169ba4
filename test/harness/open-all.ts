import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import type { Place } from '../../server/src/core/checks/finding.ts';
import type { OpenFile } from '../../server/src/core/features/open-file.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { findEntry, type Span } from '../../server/src/core/syntax/tape.ts';
import { snapshotOf } from './snapshot-of.ts';

/** Every file of a base as if it were open, by path. */
export function openAll(files: Readonly<Record<string, string>>): ReadonlyMap<string, OpenFile> {
  const snapshot = snapshotOf(files);
  const records = Object.entries(files).filter(([path]) => path !== configPath);
  return new Map(
    records.map(([path, text]) => [path, { path, tape: readText(text).tape, snapshot, isIndexed: true }] as const),
  );
}

/** The stretch of text at a place in one of these files: the whole value, or the alias in its place. Throws where there is none. */
export function spanOfPlace({ file, target }: Place, files: ReadonlyMap<string, OpenFile>): Span {
  if ('start' in target) return target;
  const { tape } = files.get(file)!;
  const { entry, depth } = findEntry(tape, tape.documents[target.document]!.root, target.path);
  const found = tape.entries[entry]!;
  if (depth < target.path.length && found.kind !== 'alias') throw new Error(`${file} has no ${target.path.join('/')}`);
  return found;
}
