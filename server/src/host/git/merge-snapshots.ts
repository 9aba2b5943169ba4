import type { Attachment } from '../../core/captures/attachment.ts';
import { wantsOf } from '../../core/index/attachments.ts';
import { isEqual } from '../../core/index/is-equal.ts';
import type { BaseFile, Snapshot } from '../../core/index/snapshot.ts';

/** A base as two sides would have it together, and the files that both of them changed, each in its own way. */
export interface Merged {
  readonly snapshot: Snapshot;
  /** Paths in the base. Of these the merged base holds what `after` has. */
  readonly contested: readonly string[];
}

/** Lays what `after` changed since `before` over `theirs`. All three are of one family. */
export function mergeSnapshots(before: Snapshot, after: Snapshot, theirs: Snapshot): Merged {
  const contested: string[] = [];
  const changes: { readonly path: string; readonly file: BaseFile | undefined }[] = [];
  for (const path of before.files.differingKeys(after.files)) {
    const [old, mine, other] = [before, after, theirs].map(({ files }) => files.get(path));
    if (isSame(old, mine) || isSame(mine, other)) continue;
    if (!isSame(old, other)) contested.push(path);
    changes.push({ path, file: mine });
  }
  const isConfigMine = before.configFile.contentId !== after.configFile.contentId;
  const merged = theirs.with(changes).withConfig(isConfigMine ? after.configFile : theirs.configFile);
  return { snapshot: merged.withAttachments(attachmentsOf(merged, { before, after, theirs })), contested };
}

function attachmentsOf(
  merged: Snapshot,
  { before, after, theirs }: { readonly before: Snapshot; readonly after: Snapshot; readonly theirs: Snapshot },
): readonly (readonly [string, Attachment | undefined])[] {
  return Array.from(wantsOf(merged).keys(), (path) => {
    const mine = after.attachment(path);
    const isMine = !isEqual(mine, before.attachment(path)) || theirs.attachment(path) === undefined;
    return [path, isMine ? mine : theirs.attachment(path)] as const;
  });
}

function isSame(a: BaseFile | undefined, b: BaseFile | undefined): boolean {
  return a === b || (a !== undefined && b !== undefined && a.contentId !== '' && a.contentId === b.contentId);
}
