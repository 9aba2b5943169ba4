import type { Tape } from '../syntax/tape.ts';
import { kinds } from '../terms/kinds.ts';
import type { ValueMap } from './intent.ts';
import { layoutOf } from './layout.ts';
import type { TextEdit } from './text-edit.ts';
import { lineBreakAt } from './text-lines.ts';
import { mapLines } from './write-value.ts';

/** Adds a document behind all others, or fills the last where that is empty. Whether the text ends with a line end stays as it is; an empty one gets one. */
export function createDocument(tape: Tape, value: ValueMap): readonly TextEdit[] {
  const { text, documents } = tape;
  const node = kinds.find((kind) => kind === value['kind']) ?? 'config';
  const lines = mapLines(value, { node, path: [], layout: layoutOf(tape), column: 0, at: 0, style: 'plain' }, 0);
  const last = documents.at(-1);
  const isOpen = last === undefined || (last.root < 0 && !last.isBroken);
  const lineBreak = lineBreakAt(text, text.length);
  const isClosed = text === '' || /[\r\n]$/.test(text);
  const added = [...(isOpen ? [] : ['---']), ...(lines.length > 0 ? lines : ['{}'])].join(lineBreak);
  const put = isClosed ? added + lineBreak : lineBreak + added;
  return [{ start: text.length, end: text.length, text: put }];
}
