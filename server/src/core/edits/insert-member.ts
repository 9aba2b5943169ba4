import { childrenOf, type Path, type Tape } from '../syntax/tape.ts';
import { commaEnd, contentEnd, entryAt, flowStarts, isBeside, isFlow, linesEnd } from './entry-spans.ts';
import type { Value } from './intent.ts';
import { type Layout, layoutOf } from './layout.ts';
import { type Located, oddMap } from './place.ts';
import { replaceValue } from './replace-value.ts';
import type { Refusal, TextEdit } from './text-edit.ts';
import { columnOf, isFirstOnLine, isRestBlank, lineBreakAt, lineEnd } from './text-lines.ts';
import { type ScalarStyle, styleOf } from './write-scalar.ts';
import { flowPair, flowValue, itemLines, keyRanks, mapLines, type Site } from './write-value.ts';

/** What comes into a map or list: a key with its value, or an item before the one at a position. */
export type Member =
  | { readonly key: string; readonly value: Value }
  | { readonly position: number; readonly value: Value };

/** Puts a member into the map or list at the end of a chain, whose path is given. */
export function insertMember(tape: Tape, place: Located, path: Path, member: Member): readonly TextEdit[] | Refusal {
  const index = place.chain.at(-1) ?? 0;
  const children = [...childrenOf(tape, index)];
  if (children.length === 0) {
    return replaceValue(tape, place, path, 'key' in member ? { [member.key]: member.value } : [member.value]);
  }
  const odd = 'key' in member ? oddMap(tape, index) : undefined;
  if (odd) return odd;
  const names = children.map((child) => entryAt(tape, child).key ?? '');
  const position = 'key' in member ? positionOf(member.key, names, keyRanks(place.node, path)) : member.position;
  const insertion: Insertion = { tape, index, children, position, member, site: siteOf(tape, place, path, children) };
  return isFlow(tape, index) ? insertInFlow(insertion) : insertLines(insertion);
}

/** Behind the key that comes last before it in the schema; where there is none, before the one that comes first after it. */
function positionOf(key: string, names: readonly string[], rank: (key: string) => number): number {
  const own = rank(key);
  const ranks = names.map(rank);
  let before = -1;
  let after = 0;
  for (const [position, other] of ranks.entries()) {
    if (other <= own && other >= (ranks[before] ?? 0)) before = position;
    if (other < (ranks[after] ?? 0)) after = position;
  }
  return before >= 0 ? before + 1 : after;
}

interface Insertion {
  readonly tape: Tape;
  readonly index: number;
  readonly children: readonly number[];
  /** Members before it. */
  readonly position: number;
  readonly member: Member;
  readonly site: Site;
}

function siteOf(tape: Tape, { node }: Located, path: Path, children: readonly number[]): Site {
  const layout: Layout = layoutOf(tape);
  const maps = children.filter((child) => entryAt(tape, child).kind === 'map');
  return {
    node,
    path,
    layout,
    column: 0,
    at: 0,
    style: jsonStyle(tape, children),
    // Maps in one list are all written alike.
    isFlow: maps.length > 0 ? maps.some((map) => isFlow(tape, map)) : undefined,
  };
}

/** Where all keys, or all texts of a list, stand in double quotes, so do new ones. */
function jsonStyle(tape: Tape, children: readonly number[]): ScalarStyle {
  const entries = children.map((child) => entryAt(tape, child));
  const isQuoted = entries.every((entry) =>
    entry.keyStart >= 0 ? tape.text.charAt(entry.keyStart) === '"' : styleOf(tape, entry) === 'double',
  );
  return isQuoted ? 'double' : 'plain';
}

function insertLines({ tape, index, children, position, member, site }: Insertion): readonly TextEdit[] {
  const { text } = tape;
  const column = columnOf(text, entryAt(tape, index).start);
  const before = children[position - 1];
  const lines = linesOf(member, site, column);
  if (before === undefined) {
    const at = entryAt(tape, index).start;
    const lineBreak = lineBreakAt(text, at);
    return [{ start: at, end: at, text: lines.join(lineBreak).trimStart() + lineBreak + ' '.repeat(column) }];
  }
  const at = linesEnd(tape, before, column);
  const lineBreak = lineBreakAt(text, at);
  return [{ start: at, end: at, text: lines.map((line) => lineBreak + line).join('') }];
}

function linesOf(member: Member, site: Site, column: number): readonly string[] {
  if ('key' in member) return mapLines({ [member.key]: member.value }, site, column);
  const [first, ...rest] = itemLines(member.value, { ...site, path: [...site.path, member.position] }, column);
  return [' '.repeat(column) + first, ...rest];
}

function insertInFlow({ tape, index, children, position, member, site }: Insertion): readonly TextEdit[] {
  const { text } = tape;
  const starts = flowStarts(tape, index);
  const written =
    'key' in member
      ? flowPair(member.key, member.value, site)
      : flowValue(member.value, { ...site, path: [...site.path, member.position] });
  const before = children[position - 1];
  const beside = starts[before === undefined ? 0 : position - 1] ?? 0;
  const isOwnLine = isFirstOnLine(text, beside);
  const pad = lineBreakAt(text, beside) + ' '.repeat(columnOf(text, beside));
  if (before === undefined) return [{ start: beside, end: beside, text: `${written},${isOwnLine ? pad : ' '}` }];
  const end = contentEnd(tape, before);
  const comma = commaEnd(text, end);
  const behind = comma ?? end;
  const isWrapped = isOwnLine && isBeside(text, end, behind) && (comma === undefined || isRestBlank(text, comma));
  if (!isWrapped) return [{ start: end, end, text: `, ${written}` }];
  const at = isRestBlank(text, behind) ? lineEnd(text, behind) : end;
  if (comma !== undefined) return [{ start: at, end: at, text: `${pad}${written},` }];
  return [
    { start: end, end, text: ',' },
    { start: at, end: at, text: pad + written },
  ];
}
