import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import { newlyWanted, noWants, wantsOf } from '../../server/src/core/index/attachments.ts';
import { type BaseFile, type ConfigFile, Snapshot } from '../../server/src/core/index/snapshot.ts';
import { readConfig } from '../../server/src/core/model/config.ts';
import { type FileFacts, readFileFacts } from '../../server/src/core/model/file-facts.ts';
import { attachmentOf } from '../../server/src/host/attachment-of.ts';
import { contentIdOf } from '../../server/src/host/content-id.ts';
import type { ReadFile } from '../../server/src/host/host.ts';
import { type PlainBase, type PlainRecord, recordsOf } from './arbitrary-base.ts';

/** Texts or bytes by path, a config among them or not. */
export type Texts = Readonly<Record<string, string | Uint8Array>>;

/** The snapshot of these files, given to it in the order of the keys. What records name besides is looked up among them. */
export function snapshotOf(texts: Texts): Snapshot {
  const { [configPath]: config = 'swaplore: 1\n', ...files } = texts;
  const records = Object.entries(files).filter(([path]) => isRecordFile(path));
  const snapshot = Snapshot.of(
    configFileOf(config),
    records.map(([path, text]) => fileOf(path, text)),
  );
  return withSeen(snapshot, texts);
}

/** Whether a file is one of records, and not one that records name. */
export function isRecordFile(path: string): boolean {
  return /\.ya?ml$/.test(path);
}

/** The snapshot where all that its records name is looked up among these files. */
export function withSeen(snapshot: Snapshot, texts: Texts): Snapshot {
  const { wanted } = newlyWanted(noWants, wantsOf(snapshot));
  return snapshot.withAttachments(wanted.map(({ path, need }) => [path, attachmentOf(need, readOf(texts[path]))]));
}

function readOf(text: Texts[string] | undefined): ReadFile {
  if (text === undefined) return { reason: 'it does not exist', isMissing: true };
  const bytes = toBytes(text);
  return { bytes, contentId: contentIdOf(bytes) };
}

/** A config as the host would read it. */
export function configFileOf(text: string | Uint8Array): ConfigFile {
  const bytes = toBytes(text);
  return { contentId: contentIdOf(bytes), reading: readConfig(bytes) };
}

/** A file as the host would read it. No two share an object. */
export function fileOf(path: string, text: string | Uint8Array): BaseFile {
  const bytes = toBytes(text);
  return {
    path,
    contentId: contentIdOf(bytes),
    facts: typeof text === 'string' ? factsOf(text) : readFileFacts(bytes),
  };
}

/** Facts of the texts read last. They are a function of the text, and a base that is edited step by step mostly stays as it is. */
const known = new Map<string, FileFacts>();
const mostKnown = 500;

function factsOf(text: string): FileFacts {
  const facts = known.get(text) ?? readFileFacts(toBytes(text));
  if (known.size >= mostKnown) known.clear();
  known.set(text, facts);
  return structuredClone(facts);
}

/** The snapshot of a base with one file for each record; quicker than through `writeFiles`. Throws where the base breaks a schema. */
export function snapshotOfBase(base: PlainBase): Snapshot {
  const config = configFileOf(blockOf(base.config));
  return Snapshot.of(config, recordsOf(base).map(fileOfRecord));
}

/** A record in a file of its own. Throws where it breaks its schema. */
export function fileOfRecord(record: PlainRecord): BaseFile {
  const file = fileOf(`${record.kind}/${record.id}.yaml`, blockOf(record));
  const [fault] = file.facts.faults;
  if (fault) throw new Error(`The generator made what no schema allows: ${JSON.stringify({ record, fault })}`);
  return file;
}

/** A map as lines that the fast reader reads; as JSON it would be left to the other, twenty times as slow. */
function blockOf(map: object): string {
  return entriesOf(map)
    .map(([key, value]) => `${key}: ${flowOf(value)}\n`)
    .join('');
}

/** JSON, but with plain keys. */
function flowOf(value: unknown): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map(flowOf).join(', ')}]`;
  return `{${entriesOf(value)
    .map(([key, inside]) => `${key}: ${flowOf(inside)}`)
    .join(', ')}}`;
}

function entriesOf(map: object): readonly (readonly [string, unknown])[] {
  return Object.entries(map).filter(([, value]) => value !== undefined);
}

function toBytes(text: string | Uint8Array): Uint8Array {
  return typeof text === 'string' ? new TextEncoder().encode(text) : text;
}
