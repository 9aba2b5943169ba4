import type { Attachment, WantedFile } from '../core/captures/attachment.ts';
import { configPath } from '../core/checks/config-invalid.ts';
import { newlyWanted, noWants, wantsOf } from '../core/index/attachments.ts';
import { type BaseFile, type ConfigFile, Snapshot } from '../core/index/snapshot.ts';
import { defaultConfig, readConfig } from '../core/model/config.ts';
import { readFileFacts, unreadableFacts } from '../core/model/file-facts.ts';
import type { Host, ReadFile } from './host.ts';

/** Files read at a time: enough to keep the disk busy, few enough to keep memory flat. */
const batchSize = 256;

/** Reads a whole base. One whose config cannot be used has a snapshot without files. `onProgress` is told the share read, 0 to 1. */
export async function loadBase(
  host: Host,
  configFile: ConfigFile,
  onProgress?: (share: number) => void,
): Promise<Snapshot> {
  if (!configFile.reading.isUsable) return Snapshot.of(configFile, []);
  const { paths, unreadable } = await host.list(configFile.reading.config.ignore);
  const files: BaseFile[] = unreadable.map(({ path, reason }) => ({
    path,
    contentId: '',
    facts: unreadableFacts(reason),
  }));
  for (let from = 0; from < paths.length; from += batchSize) {
    const batch = paths.slice(from, from + batchSize);
    const read = await host.readMany(batch);
    for (const [position, path] of batch.entries()) files.push(toBaseFile(path, read[position]));
    onProgress?.(Math.min(1, (from + batchSize) / paths.length));
  }
  const snapshot = Snapshot.of(configFile, files);
  return snapshot.withAttachments(await lookAt(host, newlyWanted(noWants, wantsOf(snapshot)).wanted));
}

/** Looks at files that records name. Gives what `Snapshot.withAttachments` takes. */
export async function lookAt(
  host: Host,
  wanted: readonly WantedFile[],
): Promise<readonly (readonly [path: string, attachment: Attachment | undefined])[]> {
  if (wanted.length === 0) return [];
  const seen = await host.lookAt(wanted);
  return wanted.map(({ path }, position) => [path, seen[position]] as const);
}

/** Reads the config of a base. One that cannot be read has no content id. */
export async function loadConfig(host: Host): Promise<ConfigFile> {
  const [file] = await host.readMany([configPath]);
  if (file && 'bytes' in file) return { contentId: file.contentId, reading: readConfig(file.bytes) };
  const reason = file?.reason ?? 'it does not exist';
  return {
    contentId: '',
    reading: { config: defaultConfig, faults: [{ kind: 'unreadable', reason }], isUsable: false },
  };
}

/** A file as a host read it; one that could not be read has no content id. */
export function toBaseFile(path: string, file: ReadFile | undefined): BaseFile {
  if (file && 'bytes' in file) return { path, contentId: file.contentId, facts: readFileFacts(file.bytes) };
  return { path, contentId: '', facts: unreadableFacts(file?.reason ?? 'it does not exist') };
}
