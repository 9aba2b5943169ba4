/**
 * What in a file can be opened: the files and web pages that records name.
 * Laws (test/property/document-links.property.test.ts):
 * - a link to a file stays inside the base
 * - no text, whole or damaged, makes it throw, and links lie within the text without overlapping
 */
import { pathInBase } from '../model/path-in-base.ts';
import { textFinder } from '../schema/text-finder.ts';
import { buildData } from '../syntax/build-data.ts';
import type { Tape } from '../syntax/tape.ts';
import { kinds } from '../terms/kinds.ts';
import { entryAtPath } from './entry-at-path.ts';
import type { OpenFile } from './open-file.ts';

/** What a link opens: a file by its path in the base, which need not exist, or a web page. */
type LinkTarget = { readonly to: 'file'; readonly path: string } | { readonly to: 'page'; readonly url: string };

/** A value that can be opened. Offsets are half-open UTF-16 offsets. */
export interface DocumentLink {
  readonly start: number;
  readonly end: number;
  readonly target: LinkTarget;
}

const findPointers = textFinder((row) => row.pointsTo !== undefined);

/** The links of a file, in the order of the text; paths that lead out of the base are none. */
export function documentLinksOf({ path, tape }: Pick<OpenFile, 'path' | 'tape'>): readonly DocumentLink[] {
  const links = tape.documents.flatMap(({ root }) => (root < 0 ? [] : linksIn(path, tape, root)));
  // What an alias repeats is one link, however much it repeats.
  const byStart = new Map(links.map((link) => [link.start, link]));
  return [...byStart.values()].sort((a, b) => a.start - b.start);
}

function linksIn(file: string, tape: Tape, root: number): readonly DocumentLink[] {
  const data = buildData(tape, root).data as { readonly kind?: unknown } | null | undefined;
  const kind = kinds.find((known) => known === data?.kind);
  if (!kind) return [];
  return findPointers(kind, data).flatMap(({ row, text, path }) => {
    const target = row.pointsTo === 'file' ? toFile(file, text) : toPage(text);
    const entry = entryAtPath(tape, root, path);
    return target && entry ? { start: entry.start, end: entry.end, target } : [];
  });
}

function toFile(file: string, text: string): LinkTarget | undefined {
  const path = pathInBase(file, text);
  return path === undefined ? undefined : { to: 'file', path };
}

/** Only what a browser opens: a source may also be a binder on a shelf. */
function toPage(text: string): LinkTarget | undefined {
  return /^https?:\/\/[^\s/?#]\S*$/i.test(text) ? { to: 'page', url: text } : undefined;
}
