import { targetOf } from '../schema/references.ts';
import { splitRevision } from '../terms/revision-name.ts';
import { capacityFacts } from './capacity-facts.ts';
import { captureBlocks } from './capture-blocks.ts';
import { comparableAt } from './comparable-at.ts';
import { dateCodeFacts, dateFacts } from './date-facts.ts';
import { followsFacts } from './follows-facts.ts';
import { hoursFacts } from './hours-facts.ts';
import { baseSays } from './hover-base-says.ts';
import { type HoverBlock, type HoverFact, sentence } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';
import { recordBlocks, revisionBlocks } from './hover-record.ts';
import { verdictFacts } from './verdict-facts.ts';
import { verifyFacts } from './verify-facts.ts';
import { wwnFacts } from './wwn-facts.ts';

/** What is known of a value; empty where that is nothing. */
export function valueBlocks(context: HoverContext): readonly HoverBlock[] {
  const captured = captureBlocks(context);
  if (captured.length > 0) return captured;
  const named = namedBlocks(context);
  if (named.length > 0) return named;
  const { row, entry } = context;
  const meaning = row.values?.find(({ value }) => value === entry.text)?.meaning ?? '';
  const facts = readers.flatMap((read) => read(context));
  const blocks: readonly HoverBlock[] = [
    ...(meaning === '' ? [] : [{ kind: 'paragraph', text: [sentence(meaning)] } as const]),
    ...(facts.length === 0 ? [] : [{ kind: 'facts', facts } as const]),
    ...(comparableAt(context) === undefined ? [] : baseSays(context)),
  ];
  return blocks.length === 0 ? [] : [{ kind: 'title', name: row.title, typed: entry.text, note: undefined }, ...blocks];
}

/** What each of these makes of a value; each looks only at its own keys. */
const readers: readonly ((context: HoverContext) => readonly HoverFact[])[] = [
  dateFacts,
  dateCodeFacts,
  wwnFacts,
  capacityFacts,
  hoursFacts,
  followsFacts,
  verifyFacts,
  ({ record, row, path, file }) =>
    record?.kind === 'outcome' &&
    path.length === 1 &&
    (row.name === 'reached' || row.name === 'result') &&
    file.isIndexed
      ? verdictFacts(record, file.snapshot)
      : [],
];

/** The record or revision a value names, or whose own id it is. */
function namedBlocks({ row, entry, record, path, file, node }: HoverContext): readonly HoverBlock[] {
  const { text } = entry;
  if (path.length === 1 && row.name === 'id') return record ? recordBlocks(record, file) : [];
  const target = targetOf(row);
  if (target === 'revision') {
    const { board: id, rev } = splitRevision(text);
    const board = file.snapshot.find('board', id);
    return board ? revisionBlocks(board, rev, file) : [];
  }
  if (target !== undefined) {
    const found = file.snapshot.findAny(target, text);
    return found ? recordBlocks(found, file) : [];
  }
  if (record?.kind === 'drive' && row.comparableAs === 'rev') {
    const board = file.snapshot.find('board', record.data.board?.id);
    return board ? revisionBlocks(board, text, file) : [];
  }
  const namesRevision = row.name === 'drop_in_for' || (node === 'board' && row.name === 'rev');
  return record?.kind === 'board' && namesRevision ? revisionBlocks(record, text, file) : [];
}
