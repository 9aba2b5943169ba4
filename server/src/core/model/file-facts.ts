/**
 * Invariant 4: file facts are a function of bytes and schema version, and plain data: no path, no date, no syntax node.
 * Laws (test/property/file-facts.property.test.ts):
 * - reading never throws, wherever a file is cut off
 * - facts survive a round trip through JSON
 * - comments and line endings change no record
 */
import type { SchemaFault } from '../schema/schema-fault.ts';
import { validate } from '../schema/validate.ts';
import { buildData, type Data, type DataMap } from '../syntax/build-data.ts';
import { isMap } from '../syntax/is-map.ts';
import { keptList } from '../syntax/kept-list.ts';
import { limits } from '../syntax/limits.ts';
import { readText } from '../syntax/read-text.ts';
import type { Reading } from '../syntax/read-with-yaml.ts';
import { findEntry, type Path, type Tape, type TapeDocument } from '../syntax/tape.ts';
import { valueAt } from '../syntax/value-at.ts';
import { kinds } from '../terms/kinds.ts';
import { decodeText } from '../text/decode.ts';
import { firstLine } from '../text/first-line.ts';
import { nearNames } from '../text/near-names.ts';
import { quotedList } from '../text/quoted-list.ts';
import type { BareId } from './bare-id.ts';
import type { Fault } from './fault.ts';
import { withoutUnusable } from './prune.ts';
import type { AnyRecord } from './record.ts';
import { recoverIds } from './recover-ids.ts';

/** A record with the position of its document in the file, counted from 0. */
interface PlacedRecord {
  readonly document: number;
  readonly record: AnyRecord;
  /** The record's `notes`. They stand apart, so that editing a note leaves the record as it is. */
  readonly notes?: string;
}

/** All that is known of one file. */
export interface FileFacts {
  readonly records: readonly PlacedRecord[];
  readonly bareIds: readonly BareId[];
  readonly faults: readonly Fault[];
  /** False where ids may stand in the file that could not be found; then nothing may be said to be missing from the base. */
  readonly areIdsKnown: boolean;
}

/** A file as read, with the tape that editors ask about. */
export interface RecordFile {
  readonly facts: FileFacts;
  /** Empty where the bytes are no text or too many. */
  readonly tape: Tape;
  /** Whether the fast reader read it. */
  readonly isFast: boolean;
}

/**
 * Reads the bytes of one file of records. Never throws. `onGiveUp` is called where the fast reader gave up, which costs time and
 * says nothing of the file, so the facts do not hold it.
 */
export function readFileFacts(bytes: Uint8Array, onGiveUp?: () => void): FileFacts {
  const { facts, isFast } = readRecordFile(bytes);
  if (!isFast) onGiveUp?.();
  return facts;
}

/** The same with the tape. */
export function readRecordFile(bytes: Uint8Array): RecordFile {
  const decoded = decodeText(bytes);
  if ('reason' in decoded) return withoutTape(unusable({ kind: 'not-text', reason: decoded.reason }), '');
  if (bytes.length > limits.fileBytes) return withoutTape(tooLarge(decoded.text, bytes.length), decoded.text);
  const reading = readText(decoded.text);
  return { facts: factsOf(reading), tape: reading.tape, isFast: reading.isFast };
}

/** Facts of a text that is in no file yet. Never throws. */
export function readTextFacts(text: string): FileFacts {
  return factsOf(readText(text));
}

/** Facts of a file the host could not read. */
export function unreadableFacts(reason: string): FileFacts {
  return unusable({ kind: 'unreadable', reason });
}

/** Facts of a file with so many bytes that nobody read it, not even for ids. */
export function unreadTooLargeFacts(bytes: number): FileFacts {
  return unusable({ kind: 'too-large', bytes });
}

function withoutTape(facts: FileFacts, text: string): RecordFile {
  return { facts, tape: { text, entries: [], documents: [] }, isFast: true };
}

function unusable(fault: Fault): FileFacts {
  return { records: [], bareIds: [], faults: [fault], areIdsKnown: false };
}

function tooLarge(text: string, bytes: number): FileFacts {
  return { records: [], bareIds: recoverIds(text), faults: [{ kind: 'too-large', bytes }], areIdsKnown: true };
}

function factsOf({ tape, faults: syntaxFaults }: Reading): FileFacts {
  const faults: Fault[] = [...syntaxFaults];
  const records: PlacedRecord[] = [];
  const bareIds: BareId[] = [];
  for (const [document, found] of tape.documents.entries()) {
    if (found.isBroken || found.root < 0) continue;
    const reading = readDocument(tape, found, document);
    // One by one: a megabyte of repeated keys makes more faults than a call may have arguments.
    for (const fault of reading.faults) faults.push(fault);
    if (reading.placed) records.push(reading.placed);
    else if (reading.bareId) bareIds.push(reading.bareId);
  }
  if (syntaxFaults.length > 0) for (const bareId of recoverIds(tape.text)) bareIds.push(bareId);
  return { records: keptList(records), bareIds: keptList(bareIds), faults: keptList(faults), areIdsKnown: true };
}

interface DocumentReading {
  readonly faults: readonly Fault[];
  readonly placed?: PlacedRecord;
  readonly bareId?: BareId;
}

function readDocument(tape: Tape, { root }: TapeDocument, document: number): DocumentReading {
  const { data, faults } = buildData(tape, root);
  if (data === undefined) {
    const [bareId] = recoverIds(tape.text.slice(tape.entries[root]?.start, tape.entries[root]?.end));
    return { faults, ...(bareId ? { bareId } : {}) };
  }
  const at = (path: readonly string[], expected: string, typed = '', near: readonly string[] = []): Fault => ({
    kind: 'schema',
    document,
    path,
    problem: typed === '' ? { what: 'missing', expected } : { what: 'refused', typed, expected, near },
  });
  if (!isMap(data)) {
    const typed = lineOf(tape, root);
    return { faults: [...faults, at([], 'a map of keys that begins with `kind`', typed)] };
  }
  const id = typeof data['id'] === 'string' ? data['id'] : undefined;
  const bareId: { bareId?: BareId } = id === undefined ? {} : { bareId: { kind: undefined, id } };
  const kind = kinds.find((name) => name === data['kind']);
  if (!kind) {
    const expected = `one of ${quotedList(kinds)}`;
    const typed = typedKind(data['kind'], tape, root);
    return { faults: [...faults, at(['kind'], expected, typed, nearNames(typed, kinds))], ...bareId };
  }
  const schemaFaults = validate({ kind, data, tape, root });
  const pruned = withoutUnusable(
    data,
    schemaFaults.map((fault) => fault.path),
  );
  const all = [...faults, ...schemaFaults.map((fault) => ({ ...fault, document }))];
  const { id: usableId, notes, ...rest } = pruned.data;
  if (typeof usableId !== 'string') return { faults: all, ...bareId };
  const unusable = keptList([...pruned.unusable.filter(([key]) => key !== 'notes'), ...misspelt(schemaFaults, data)]);
  // The validators have just proved what the types say.
  const record = { kind, id: usableId, data: rest, unusable } as unknown as AnyRecord;
  return { faults: all, placed: { document, record, ...(typeof notes === 'string' ? { notes } : {}) } };
}

/** What stands under `kind`; empty where nothing does. Of a map or list the text: as a value it is no text, and cannot be made one. */
function typedKind(kind: Data | undefined, tape: Tape, root: number): string {
  if (kind === undefined) return '';
  return typeof kind === 'object' ? lineOf(tape, findEntry(tape, root, ['kind']).entry) : String(kind);
}

/** The first line of a value as typed, cut short. */
function lineOf(tape: Tape, entry: number): string {
  const { start, end } = tape.entries[entry] ?? { start: 0, end: 0 };
  return firstLine(tape.text.slice(start, end)).slice(0, 60);
}

/** Keys that are absent and were probably meant by an unknown key near them: their values stand in the file and cannot be used. */
function misspelt(faults: readonly SchemaFault[], data: DataMap): Path[] {
  return faults.flatMap((fault) =>
    fault.kind === 'unknown-key'
      ? fault.near.map((name) => [...fault.path.slice(0, -1), name]).filter((path) => valueAt(data, path) === undefined)
      : [],
  );
}
