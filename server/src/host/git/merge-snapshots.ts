import type { Attachment } from '../../core/captures/attachment.ts';
import { configPath } from '../../core/checks/config-invalid.ts';
import { wantsOf } from '../../core/index/attachments.ts';
import { isEqual } from '../../core/index/is-equal.ts';
import type { BaseFile, ConfigFile, Snapshot } from '../../core/index/snapshot.ts';
import { readConfig } from '../../core/model/config.ts';
import { readFileFacts } from '../../core/model/file-facts.ts';
import { decodeText } from '../../core/text/decode.ts';
import { mergeTexts } from '../../core/text/merge-texts.ts';
import { contentIdOf } from '../content-id.ts';
import type { WantedContent } from './read-contents.ts';

/** A base where two sides parted, and as each of them has it now; all of one family. */
export interface ThreeSides {
  readonly before: Snapshot;
  readonly after: Snapshot;
  readonly theirs: Snapshot;
}

/** The base that the two sides come to together; or the files whose two versions cannot be put together, as paths in the base. */
export type Merged =
  | {
      readonly snapshot: Snapshot;
      /** Contents that no side has, by their ids. */
      readonly contents: ReadonlyMap<string, Uint8Array>;
    }
  | { readonly conflicts: readonly string[] };

/** Reads contents of files again. */
export type ReadContents = (wanted: Iterable<WantedContent>) => Promise<ReadonlyMap<string, Uint8Array>>;

/** Puts what both sides changed together, files that both of them changed line by line. Asks git for nothing, since it would have to write. */
export async function mergeSnapshots(sides: ThreeSides, readContents: ReadContents): Promise<Merged> {
  const { before, after, theirs } = sides;
  const changes: { readonly path: string; readonly file: BaseFile | undefined }[] = [];
  const contested: Contested[] = [];
  for (const path of before.files.differingKeys(after.files)) {
    const [old, mine, other] = [before, after, theirs].map(({ files }) => files.get(path));
    if (isSame(old, mine) || isSame(mine, other)) continue;
    if (isSame(old, other)) changes.push({ path, file: mine });
    else contested.push({ path, old: old?.contentId, mine: mine?.contentId, other: other?.contentId });
  }
  const [oldConfig, myConfig, otherConfig] = [before, after, theirs].map(({ configFile }) => configFile.contentId);
  const isConfigMine = oldConfig !== myConfig;
  if (isConfigMine && oldConfig !== otherConfig && myConfig !== otherConfig) {
    contested.push({ path: configPath, old: oldConfig, mine: myConfig, other: otherConfig });
  }
  const { contents, conflicts } = await mergeContested(contested, readContents);
  if (conflicts.length > 0) return { conflicts };
  let configFile: ConfigFile = isConfigMine ? after.configFile : theirs.configFile;
  for (const [path, bytes] of contents) {
    const contentId = contentIdOf(bytes);
    if (path === configPath) configFile = { contentId, reading: readConfig(bytes) };
    else changes.push({ path, file: { path, contentId, facts: readFileFacts(bytes) } });
  }
  const merged = theirs.with(changes).withConfig(configFile);
  return {
    snapshot: merged.withAttachments(attachmentsOf(merged, sides)),
    contents: new Map(Array.from(contents.values(), (bytes) => [contentIdOf(bytes), bytes])),
  };
}

/** A file that each side changed in its own way, with the ids of what it holds; undefined where it is not there, empty where it cannot be read. */
interface Contested {
  readonly path: string;
  readonly old: string | undefined;
  readonly mine: string | undefined;
  readonly other: string | undefined;
}

async function mergeContested(
  contested: readonly Contested[],
  readContents: ReadContents,
): Promise<{ readonly contents: ReadonlyMap<string, Uint8Array>; readonly conflicts: readonly string[] }> {
  const wanted = contested.flatMap(({ path, old, mine, other }) =>
    [old, mine, other].flatMap((contentId) => (contentId === undefined ? [] : { path, contentId })),
  );
  const found = contested.length === 0 ? new Map<string, Uint8Array>() : await readContents(wanted);
  const textOf = (id: string | undefined): string | undefined => {
    const bytes = id === undefined ? undefined : found.get(id);
    const decoded = bytes && decodeText(bytes);
    // Files on a disk may have other line ends than the revision that they come from.
    return decoded && 'text' in decoded ? decoded.text.replaceAll('\r\n', '\n') : undefined;
  };
  const contents = new Map<string, Uint8Array>();
  const conflicts: string[] = [];
  for (const { path, old, mine, other } of contested) {
    const [oldText, myText, otherText] = [old, mine, other].map(textOf);
    const merged =
      oldText === undefined || myText === undefined || otherText === undefined
        ? undefined
        : mergeTexts(oldText, myText, otherText);
    if (merged === undefined) conflicts.push(path);
    else contents.set(path, new TextEncoder().encode(merged));
  }
  return { contents, conflicts };
}

function attachmentsOf(
  merged: Snapshot,
  { before, after, theirs }: ThreeSides,
): readonly (readonly [string, Attachment | undefined])[] {
  return Array.from(wantsOf(merged).keys(), (path) => {
    const mine = after.attachment(path);
    const isMine = !isEqual(mine, before.attachment(path)) || theirs.attachment(path) === undefined;
    return [path, isMine ? mine : theirs.attachment(path)] as const;
  });
}

function isSame(a: BaseFile | undefined, b: BaseFile | undefined): boolean {
  return a === b || (a !== undefined && b !== undefined && a.contentId === b.contentId);
}
