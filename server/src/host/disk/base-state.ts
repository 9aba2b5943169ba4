import type { Attachment } from '../../core/captures/attachment.ts';
import { type BaseFile, type ConfigFile, Snapshot } from '../../core/index/snapshot.ts';
import type { FileFacts } from '../../core/model/file-facts.ts';

/** What was seen of the other files that records name, by path. */
type Seen = readonly (readonly [path: string, seen: Attachment])[];

/** What a base held at some time, by content ids. */
export interface BaseState {
  readonly configId: string;
  readonly files: readonly (readonly [path: string, contentId: string])[];
  readonly attachments: Seen;
}

/** All that a base holds. */
export interface LoadedBase {
  readonly configFile: ConfigFile;
  readonly files: readonly BaseFile[];
  readonly attachments: Seen;
}

/** The base as a snapshot, and the one of an earlier state that it was made from; only the first where that is not at hand. */
export interface Snapshots {
  readonly now: Snapshot;
  readonly before?: Snapshot;
}

/** The state that a base is in. */
export function stateOf({ configFile, files, attachments }: LoadedBase): BaseState {
  return {
    configId: configFile.contentId,
    files: files.map(({ path, contentId }) => [path, contentId] as const),
    attachments,
  };
}

/**
 * The snapshot of a base, made from that of an earlier state. `factsOf` gives the facts of a content that no file has any more, or
 * undefined.
 */
export function* snapshotsOf(
  base: LoadedBase,
  earlier: BaseState | undefined,
  factsOf: (contentId: string) => FileFacts | undefined,
): Generator<undefined, Snapshots> {
  const { configFile, files, attachments } = base;
  const old = earlier?.configId === configFile.contentId ? filesOf(earlier, files, factsOf) : undefined;
  if (!earlier || !old) return { now: (yield* Snapshot.inSteps(configFile, files)).withAttachments(attachments) };
  const before = (yield* Snapshot.inSteps(configFile, old.values())).withAttachments(earlier.attachments);
  const changes = new Map<string, BaseFile | undefined>(Array.from(old.keys(), (path) => [path, undefined]));
  for (const file of files) {
    if (old.get(file.path)?.contentId === file.contentId) changes.delete(file.path);
    else changes.set(file.path, file);
  }
  const unnamed = earlier.attachments.map(([path]) => [path, undefined] as const);
  const now = before
    .with(Array.from(changes, ([path, file]) => ({ path, file })))
    .withAttachments(new Map<string, Attachment | undefined>([...unnamed, ...attachments]));
  return { now, before };
}

/** The files of an earlier state by path; undefined where the facts of one are not at hand. */
function filesOf(
  earlier: BaseState,
  files: readonly BaseFile[],
  factsOf: (contentId: string) => FileFacts | undefined,
): ReadonlyMap<string, BaseFile> | undefined {
  const present = new Map(files.map((file) => [file.path, file]));
  const found = new Map<string, BaseFile>();
  for (const [path, contentId] of earlier.files) {
    const now = present.get(path);
    // Records are told apart by identity, and a file may have come to hold what this one held.
    const facts = now?.contentId === contentId ? now.facts : structuredClone(factsOf(contentId));
    if (!facts) return undefined;
    found.set(path, { path, contentId, facts });
  }
  return found;
}
