import type { Attachment, WantedFile } from '../../core/captures/attachment.ts';
import { newlyWanted, noWants, wantedAmong, wantsOf } from '../../core/index/attachments.ts';
import { type BaseFile, Snapshot } from '../../core/index/snapshot.ts';
import { type FileFacts, unreadableFacts } from '../../core/model/file-facts.ts';
import { lookAt } from '../load-base.ts';
import type { BlobFacts } from './blob-facts.ts';
import { type GitHost, submodule } from './git-host.ts';
import { noConfig, type RevisionBase } from './revision-base.ts';

/** Changes of the files of a snapshot. */
type Changes = { readonly path: string; readonly file: BaseFile | undefined }[];

/** Makes snapshots of revisions whose contents are loaded, in one family, so that they share whatever is the same in them. */
export class SnapshotMaker {
  constructor(private readonly facts: BlobFacts) {}

  /** The base of a revision, the first of a family; one without files where the revision has no base. */
  first(base: RevisionBase | undefined): Promise<Snapshot> {
    return this.near(Snapshot.of(base?.configFile ?? noConfig, []), base);
  }

  /** The base of a revision as another member of the family of a snapshot. */
  async near(near: Snapshot, base: RevisionBase | undefined): Promise<Snapshot> {
    const changes: Changes = [];
    const paths = new Set<string>();
    for (const { path, contentId, facts } of base ? this.filesOf(base) : []) {
      paths.add(path);
      // Why a file cannot be read is no news where it cannot be read in either.
      if (near.files.get(path)?.contentId !== contentId)
        changes.push({ path, file: { path, contentId, facts: facts() } });
    }
    for (const { path, contentId } of near.files.values()) {
      // Only a disk can tell what lies outside, and what it says of a link is no news where the link is the same.
      const isSame = paths.has(path) || (contentId === '' && base?.host.leadsOut(path));
      if (!isSame) changes.push({ path, file: undefined });
    }
    const snapshot = near.with(changes).withConfig(base?.configFile ?? noConfig);
    return base ? withSeen(snapshot, base.host, near) : snapshot;
  }

  private *filesOf({ host, listing }: RevisionBase): Generator<Omit<BaseFile, 'facts'> & { facts: () => FileFacts }> {
    for (const path of listing.paths) {
      const id = host.tree.get(path)?.id ?? '';
      yield { path, contentId: this.facts.isRead(id) ? id : '', facts: () => ownFacts(this.facts.get(id)) };
    }
    for (const { path, reason } of listing.unreadable) {
      yield { path, contentId: '', facts: () => unreadableFacts(reason) };
    }
  }
}

/**
 * The base on a disk as a revision of it would be: what lies in submodules is not read, since a revision does not hold it. Otherwise
 * it would seem to be new.
 */
export function withoutSubmodules(snapshot: Snapshot, host: GitHost): Snapshot {
  const folders = [...host.tree].flatMap(([path, { kind }]) => (kind === 'submodule' ? path : []));
  const isInside = (path: string): boolean => folders.some((folder) => path.startsWith(`${folder}/`));
  const hidden = [...snapshot.files.keys()].filter(isInside);
  const changes: Changes = hidden.map((path) => ({ path, file: undefined }));
  for (const path of host.submodulesIn(snapshot.config.ignore)) {
    changes.push({ path, file: { path, contentId: '', facts: unreadableFacts(submodule) } });
  }
  if (changes.length === 0) return snapshot;
  const without = snapshot.with(changes);
  const { wanted } = newlyWanted(noWants, wantsOf(without));
  const unseen: Attachment = { state: 'unreadable', reason: submodule };
  return without.withAttachments(wanted.flatMap(({ path }) => (isInside(path) ? [[path, unseen] as const] : [])));
}

/** With all that a revision says of the other files that records name, and nothing of what they do not name. */
async function withSeen(snapshot: Snapshot, host: GitHost, near: Snapshot): Promise<Snapshot> {
  const { wanted } = newlyWanted(noWants, wantsOf(snapshot));
  const wantedNear = new Map(wantedAmong(near.attachments.keys(), wantsOf(near)).map(({ path, need }) => [path, need]));
  // What is the same in both was read for the other: images have megabytes.
  const isKnown = ({ path, need }: WantedFile): boolean => {
    const known = near.attachment(path);
    const isPresent = known?.state === 'present' && known.contentId !== '';
    return isPresent && wantedNear.get(path) === need && host.contentAt(path) === known.contentId;
  };
  const seen = new Map<string, Attachment | undefined>(
    Array.from(snapshot.attachments.keys(), (path) => [path, undefined]),
  );
  for (const file of wanted) if (isKnown(file)) seen.delete(file.path);
  const unknown = wanted.filter((file) => !isKnown(file));
  for (const [path, attachment] of await lookAt(host, unknown)) seen.set(path, attachment);
  return snapshot.withAttachments(seen);
}

/** Facts with records of their own: two files that hold the same hold two records, each in its place. */
function ownFacts(facts: FileFacts): FileFacts {
  return { ...facts, records: facts.records.map((placed) => ({ ...placed, record: { ...placed.record } })) };
}
