/**
 * A record gets another id, and all that name it follow.
 * Laws (test/property/rename-id.property.test.ts):
 * - after a rename the record is found under its new id and every reference to it leads there
 * - a rename changes nothing but ids, and renaming back gives back every text
 */
import { describeProblem } from '../checks/schema.ts';
import type { Intent } from '../edits/intent.ts';
import { type EditableText, planEdits } from '../edits/plan-edits.ts';
import { type FileEdits, isRefusal, type Refusal, replaceIn } from '../edits/text-edit.ts';
import { referrersOf } from '../index/referrers.ts';
import type { BaseFile, Snapshot, Standing } from '../index/snapshot.ts';
import { referencesIn, targetOf } from '../schema/references.ts';
import { validate } from '../schema/validate.ts';
import { buildData } from '../syntax/build-data.ts';
import { readText } from '../syntax/read-text.ts';
import type { Path, Span, Tape } from '../syntax/tape.ts';
import type { Kind } from '../terms/kinds.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { findCursor } from './cursor.ts';
import type { OpenFile } from './open-file.ts';

/** A record by its kind and id. */
export interface RecordName {
  readonly kind: Kind;
  readonly id: string;
}

/** The id at an offset, half-open offsets of it without its quotes, and the record it names; or why it cannot be renamed. */
export function prepareRename(file: OpenFile, offset: number): (RecordName & Span) | Refusal {
  const { tape, snapshot } = file;
  const cursor = findCursor(file, offset);
  if (cursor?.side !== 'value' || cursor.node === undefined) return { refused: 'No id stands here.' };
  if (cursor.entry.kind === 'alias')
    return { refused: 'The id stands here by an alias; it is renamed where it is written.' };
  if (!file.isIndexed) return { refused: 'The base is still being read, so not all that name this id are known yet.' };
  const [own] = cursor.path;
  const isOwn = cursor.path.length === 1 && own === 'id' && cursor.node !== 'config';
  const target = isOwn ? cursor.node : cursor.row && targetOf(cursor.row);
  if (target === undefined) return { refused: 'No id stands here.' };
  const { text } = cursor.entry;
  const id = target === 'revision' ? text.slice(0, Math.max(text.indexOf('/'), 0)) : text;
  const kind = target === 'revision' ? 'board' : target;
  const span = spanOfId(tape, cursor, id);
  if (offset > span.end) return { refused: 'A revision is renamed by hand: its name is that of one board only.' };
  if (!snapshot.findAny(kind, id)) return { refused: `No ${kind} \`${id}\` is recorded.` };
  return { kind, id, ...span };
}

function spanOfId({ text }: Tape, { start, end }: Span, id: string): Span {
  const inner = /["']/.test(text.charAt(start)) ? start + 1 : start;
  // Folded or escaped text shows the id in another form, so all of it stands for the id.
  return text.startsWith(id, inner) ? { start: inner, end: inner + id.length } : { start, end };
}

/** The files whose texts `renameId` has to see, sorted. */
export function filesNaming(snapshot: Snapshot, name: RecordName): readonly string[] {
  const files = [...standingsNaming(snapshot, name).map(({ file }) => file), ...unreadFiles(snapshot)];
  return [...new Set(files.map(({ path }) => path))].sort(byCodeUnits);
}

/** What is to be renamed, and the texts of the files that `filesNaming` lists, as they are in the snapshot. */
export interface Rename extends RecordName {
  readonly snapshot: Snapshot;
  readonly newId: string;
  readonly texts: ReadonlyMap<string, EditableText>;
}

/** The edits that give a record another id wherever it is named, by file; or why that cannot be done. */
export function renameId(rename: Rename): readonly FileEdits[] | Refusal {
  const { snapshot, id, newId, texts } = rename;
  if (newId === id) return [];
  const hindrance = hindranceOf(rename);
  if (hindrance) return hindrance;
  const intents = new Map<string, Intent[]>();
  for (const standing of standingsNaming(snapshot, rename)) {
    const { path } = standing.file;
    intents.set(path, [...(intents.get(path) ?? []), ...intentsFor(standing, rename)]);
  }
  const edits: FileEdits[] = [];
  for (const [file, ofFile] of [...intents].sort(([a], [b]) => byCodeUnits(a, b))) {
    const text = texts.get(file);
    if (text?.contentId !== snapshot.files.get(file)?.contentId || !text)
      return { refused: `${file} has changed or cannot be read.` };
    const planned = planEdits(text, ofFile);
    if (isRefusal(planned)) return { refused: `In ${file}: ${planned.refused}` };
    edits.push({ file, ...planned });
  }
  return edits;
}

function hindranceOf({ snapshot, kind, id, newId, texts }: Rename): Refusal | undefined {
  if (!snapshot.findAny(kind, id)) return { refused: `No ${kind} \`${id}\` is recorded.` };
  if (snapshot.findAny(kind, newId) || snapshot.hasBareId(kind, newId)) {
    return { refused: `The id \`${newId}\` is taken by another ${kind}.` };
  }
  const isTwice = [...snapshot.duplicates()].some(({ first }) => first.record === snapshot.findAny(kind, id));
  if (isTwice) return { refused: `Several records have the id \`${id}\`; which of them others mean is not known.` };
  const word = new RegExp(`(?<![a-z0-9-])${id}(?![a-z0-9-])`);
  const unread = unreadFiles(snapshot).find(({ path }) => word.test(texts.get(path)?.tape.text ?? ''));
  if (!unread) return refusedId(kind, newId);
  return { refused: `${unread.path} cannot be read as YAML and may name \`${id}\`; that has to be mended first.` };
}

/** Where the record and all that name it stand, records whose own id is taken included. */
function standingsNaming(snapshot: Snapshot, name: RecordName): readonly Standing[] {
  const own = snapshot.findAny(name.kind, name.id);
  const referrers = [...referrersOf(name.id, snapshot)].map((record) => snapshot.locate(record));
  const doubles = [...snapshot.duplicates()].map(({ again }) => again);
  const naming = [...referrers, ...doubles].filter((standing) => pathsNaming(standing, name).length > 0);
  return own ? [snapshot.locate(own), ...naming.filter(({ record }) => record !== own)] : naming;
}

/** Where in a record another is named, or itself. */
function pathsNaming(
  { record }: Standing,
  { kind, id }: RecordName,
): readonly { readonly path: Path; readonly text: string }[] {
  return referencesIn(record.kind, record.data)
    .filter((found) =>
      found.refersTo === 'revision'
        ? kind === 'board' && found.id.startsWith(`${id}/`)
        : found.refersTo === kind && found.id === id,
    )
    .map(({ path, id: text }) => ({ path, text }));
}

function intentsFor(standing: Standing, { kind, id, newId }: Rename): readonly Intent[] {
  const { record, document } = standing;
  const own = record.kind === kind && record.id === id ? [{ path: ['id'], text: id }] : [];
  return [...own, ...pathsNaming(standing, { kind, id })].map(({ path, text }) => ({
    intent: 'set',
    document,
    path,
    value: newId + text.slice(id.length),
  }));
}

/** Files with a fault that hides what stands in them. */
function unreadFiles(snapshot: Snapshot): readonly BaseFile[] {
  return [...snapshot.troubledFiles.values()].filter(({ facts }) =>
    facts.faults.some(({ kind }) => kind !== 'schema' && kind !== 'unknown-key' && kind !== 'duplicate-key'),
  );
}

/** What the schema has against an id. */
function refusedId(kind: Kind, id: string): Refusal | undefined {
  const planned = planEdits({ tape: readText('').tape, contentId: '' }, [{ intent: 'create', value: { kind, id } }]);
  if (isRefusal(planned)) return planned;
  const { tape } = readText(replaceIn('', planned.edits));
  const root = tape.documents[0]?.root ?? -1;
  const { data = {} } = buildData(tape, root);
  const fault = validate({ kind, data, tape, root }).find(({ path }) => path[0] === 'id');
  return fault?.kind === 'schema' ? { refused: describeProblem('id', fault.problem, 'The record').message } : undefined;
}
