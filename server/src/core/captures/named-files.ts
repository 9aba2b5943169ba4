import { pathInBase } from '../model/path-in-base.ts';
import type { AnyRecord } from '../model/record.ts';
import { textFinder } from '../schema/text-finder.ts';
import type { Path } from '../syntax/tape.ts';
import type { Need } from './attachment.ts';

/** A file that a record names. */
export interface NamedFile {
  /** The path as written, relative to the record's file. */
  readonly written: string;
  readonly path: Path;
  /** The key that says what kind of file it is, such as `after` or `rom_image`. */
  readonly key: string;
  readonly need: Need;
  /** The SHA-256 that the record says the file has, in lower case. */
  readonly sha256?: { readonly sum: string; readonly path: Path };
}

const findFiles = textFinder((row) => row.pointsTo === 'file');

/** The files that a record names, in the order of the schema. */
export function namedFiles({ kind, data }: AnyRecord): readonly NamedFile[] {
  return findFiles(kind, data).map(({ text, path }) => {
    const sha256 = sumBeside(data, path);
    return {
      written: text,
      path,
      key: keyOf(path),
      need: needOf(path, sha256 !== undefined),
      ...(sha256 === undefined ? {} : { sha256 }),
    };
  });
}

/** The same by their paths in the base, for a record in this file; those that lead out of the base left out. */
export function wantedFiles(
  record: AnyRecord,
  file: string,
): readonly { readonly path: string; readonly need: Need }[] {
  return namedFiles(record).flatMap(({ written, need }) => {
    const path = pathInBase(file, written);
    return path === undefined ? [] : [{ path, need }];
  });
}

/** Captures are read for what they say, all others only for their sum, and without one they just have to be there. */
function needOf([first]: Path, hasSum: boolean): Need {
  if (first === 'captures') return 'capture';
  return hasSum ? 'sum' : 'presence';
}

/** A path may be the value of the key itself, or stand under `file` beside its sum. */
function keyOf(path: Path): string {
  const names = path.filter((step) => typeof step === 'string');
  return (names.at(-1) === 'file' ? names.at(-2) : names.at(-1)) ?? '';
}

function sumBeside(data: unknown, path: Path): NamedFile['sha256'] {
  if (path.at(-1) !== 'file') return undefined;
  const above = path.slice(0, -1);
  let map = data;
  for (const step of above) map = (map as Readonly<Record<string | number, unknown>>)[step];
  const { sha256 } = map as { readonly sha256?: unknown };
  return typeof sha256 === 'string' ? { sum: sha256.toLowerCase(), path: [...above, 'sha256'] } : undefined;
}
