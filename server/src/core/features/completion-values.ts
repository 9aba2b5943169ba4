import { findRevision } from '../conditions/swap.ts';
import type { BoardRecord } from '../model/record.ts';
import { type KeyRow, keyNodes, keyRowsIn } from '../schema/key-rows.ts';
import { targetOf } from '../schema/references.ts';
import { childrenOf, findEntry, type Tape } from '../syntax/tape.ts';
import { kinds } from '../terms/kinds.ts';
import type { CompletionContext } from './completion-context.ts';
import { type Choices, idChoices, revisionChoices } from './completion-ids.ts';
import { type CompletionItem, valueItem } from './completion-item.ts';
import { nextId } from './next-id.ts';
import type { OpenFile } from './open-file.ts';
import { typedScalar } from './typed-scalar.ts';

/** The values that could stand at the cursor, and whether there are more. */
export interface ValueItems {
  readonly items: readonly CompletionItem[];
  readonly isCut: boolean;
}

/** What could be typed for a value: choices in the schema's order, ids by how well they fit, names the records give. */
export function valueItems(file: OpenFile, context: CompletionContext): ValueItems {
  const { path, node } = context;
  if (node === undefined && path.length === 1 && path[0] === 'kind') return { items: kindItems(), isCut: false };
  const { row } = context;
  if (!row || (context.quote !== undefined && row.type !== 'text')) return { items: [], isCut: false };
  const fixed = fixedValues(row);
  if (fixed.length > 0) {
    const items = fixed.map(({ value, meaning }) => valueItem(value, textFor(value, row, context), meaning));
    return { items: items.filter(({ label }) => !isTaken(label, context)), isCut: false };
  }
  const { choices, isCut } = recordedChoices(file, context, row);
  const what = targetOf(row) === undefined && row.name !== 'id' ? 'value' : 'id';
  const items = choices.flatMap(({ text, detail }) =>
    isTaken(text, context) ? [] : ({ ...valueItem(text, textFor(text, row, context), detail), what } as const),
  );
  return { items, isCut };
}

/** In a list no value is needed twice. */
function isTaken(value: string, { path, siblings }: CompletionContext): boolean {
  return typeof path.at(-1) === 'number' && siblings.has(value);
}

function kindItems(): readonly CompletionItem[] {
  return kinds.flatMap((kind) => {
    const [row] = (keyNodes[kind] ?? []).filter(({ name }) => name === 'kind');
    return (row?.values ?? []).map(({ value, meaning }) => valueItem(value, value, meaning));
  });
}

function fixedValues(row: KeyRow): readonly { readonly value: string; readonly meaning: string }[] {
  if (row.values) return row.values;
  return row.type === 'boolean' ? ['true', 'false'].map((value) => ({ value, meaning: '' })) : [];
}

/** A value as it has to be typed here; the first of a list that has no brackets yet brings them. */
function textFor(value: string, row: KeyRow, { quote, isInFlow, path, needsDash }: CompletionContext): string {
  const isListDue = row.list === 'yes' && typeof path.at(-1) === 'string' && !needsDash;
  const text = row.type === 'text' ? typedScalar(value, { quote, isInFlow: isInFlow || isListDue }) : value;
  return isListDue ? `[${text}]` : text;
}

const noChoices: Choices = { choices: [], isCut: false };

/** What the records of the base, or of this text, give to choose from. */
function recordedChoices(file: OpenFile, context: CompletionContext, row: KeyRow): Choices {
  const { node, path, typed, siblings, extent } = context;
  const target = targetOf(row);
  if (target === 'revision') return revisionChoices(file.snapshot, typed);
  if (target !== undefined) return idChoices(file.snapshot, target, typed);
  if (row.name === 'id' && path.length === 1 && node !== undefined && node !== 'config') {
    const id = nextId(file, node, { document: extent.document, siblings });
    return id === undefined ? noChoices : { choices: [{ text: id, detail: 'The next that is free' }], isCut: false };
  }
  if (row.name === 'drop_in_for') return plainChoices(otherRevisions(file.tape, context));
  const board = boardBeside(file, context);
  return board ? plainChoices(boardValues(board, row, siblings.get('rev'))) : noChoices;
}

function plainChoices(texts: readonly string[], detail = ''): Choices {
  return { choices: texts.map((text) => ({ text, detail })), isCut: false };
}

/** The names of the other revisions of the board record the cursor stands in. */
function otherRevisions(tape: Tape, { extent, path }: CompletionContext): readonly string[] {
  const { entry, depth } = findEntry(tape, tape.documents[extent.document]?.root ?? -1, path.slice(0, 1));
  if (depth === 0) return [];
  return [...childrenOf(tape, entry)].flatMap((revision, position) => {
    const name = findEntry(tape, revision, ['rev']);
    const text = name.depth === 1 ? tape.entries[name.entry]?.text : undefined;
    return text === undefined || text === '' || position === path[1] ? [] : text;
  });
}

/** The board named in the map the cursor stands in. */
function boardBeside({ snapshot }: OpenFile, { node, path, siblings }: CompletionContext): BoardRecord | undefined {
  const rows = node === undefined || path.length < 2 ? [] : keyRowsIn(node, path.slice(0, -1));
  const named = rows.find(({ refersTo }) => refersTo === 'board');
  return named && snapshot.find('board', siblings.get(named.name));
}

/** What a board, or the revision of it that is named, records under the comparable key of a row. */
function boardValues(board: BoardRecord, { comparableAs }: KeyRow, rev: string | undefined): readonly string[] {
  if (comparableAs === 'rev') return (board.data.revisions ?? []).flatMap((revision) => revision.rev ?? []);
  const isPart = comparableAs === 'controller' || comparableAs === 'motor_driver';
  const revision = isPart && rev !== undefined && rev !== '' ? findRevision(board, rev) : undefined;
  const value = isPart ? revision?.[comparableAs] : undefined;
  return typeof value === 'string' ? [value] : (value ?? []);
}
