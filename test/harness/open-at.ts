import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import type { OpenFile } from '../../server/src/core/features/open-file.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { snapshotOf } from './snapshot-of.ts';

/** A file open in a base, with the offset of the cursor in it. */
export interface OpenedAt {
  readonly file: OpenFile;
  readonly offset: number;
}

/** Opens the one file that holds the cursor `$0`; `$0` itself is taken out. Throws where there is none. */
export function openAt(files: Readonly<Record<string, string>>, { isIndexed = true } = {}): OpenedAt {
  const [path, marked] = Object.entries(files).find(([, text]) => text.includes('$0')) ?? [];
  if (path === undefined || marked === undefined) throw new Error('No file holds the cursor $0.');
  const text = marked.replace('$0', '');
  const snapshot = snapshotOf({ [configPath]: 'swaplore: 1\n', ...files, [path]: text });
  return { file: { path, tape: readText(text).tape, snapshot, isIndexed }, offset: marked.indexOf('$0') };
}

/** Every file of a base that may hold records, each open in it. */
export function openEach({
  [configPath]: config = 'swaplore: 1\n',
  ...files
}: Readonly<Record<string, string>>): OpenFile[] {
  const snapshot = snapshotOf({ [configPath]: config, ...files });
  return Object.entries(files).map(([path, text]) => ({ path, tape: readText(text).tape, snapshot, isIndexed: true }));
}
