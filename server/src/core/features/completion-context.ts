/**
 * What may be typed at an offset, told from the text around it: half-typed lines leave no tape worth reading.
 * Laws (test/property/completion-context.property.test.ts):
 * - no offset of any text, whole, cut off or damaged, makes it throw
 * - at the end of every key and scalar it gives the path and the side the tape gives
 * - the text to replace holds the cursor, and what is typed ends there
 */
import { configPath } from '../checks/config-invalid.ts';
import { findKeyRow, type KeyRow } from '../schema/key-rows.ts';
import type { Path, Span } from '../syntax/tape.ts';
import { type Kind, kinds } from '../terms/kinds.ts';
import { type Collection, openCollection, type Stand, stepInto } from './collection.ts';
import { type DocumentExtent, documentAround } from './document-around.ts';
import { FlowScan } from './scan-flow.ts';
import { scanToCursor } from './scan-to-cursor.ts';
import { addSiblingsAfter } from './siblings-after.ts';
import { type TokenAround, tokenAround } from './token-around.ts';

/** What may be typed at an offset. `start` and `end` enclose what is typed already and would be replaced, without quotes. */
export interface CompletionContext extends Span {
  readonly extent: DocumentExtent;
  /** What kind of map the document is; undefined where it does not say. */
  readonly node: Kind | 'config' | undefined;
  /** Of a key the path of the map it stands in, of a value its own. */
  readonly path: Path;
  readonly side: 'key' | 'value';
  /** What the schema says of the key the path ends in; undefined for the document's own map and keys no schema knows. */
  readonly row: KeyRow | undefined;
  /** What is typed up to the cursor. */
  readonly typed: string;
  /** The other keys of the map with their scalars (empty for other values), before and after the cursor; of a list its other scalar items, each with an empty text. */
  readonly siblings: ReadonlyMap<string, string>;
  /** Column at which the map's keys stand, or the dash that is due. */
  readonly column: number;
  readonly isInFlow: boolean;
  readonly quote: '"' | "'" | undefined;
  /** Whether what is typed has its colon already. */
  readonly hasColon: boolean;
  /** Whether the cursor stands right behind a colon or dash, which count only with a space behind them. */
  readonly needsSpace: boolean;
  /** Whether a dash has to come first. */
  readonly needsDash: boolean;
}

/** What may be typed at an offset of a file; undefined in comments, in block text, and where nothing can follow. */
export function completionContext(
  { path: file, text }: { readonly path: string; readonly text: string },
  offset: number,
): CompletionContext | undefined {
  const extent = documentAround(text, offset);
  const stand = extent && scanToCursor(text, extent.start, offset);
  if (!extent || !stand || stand === 'nothing') return undefined;
  const token = tokenAround(text, stand, offset, extent.end);
  const node = file === configPath ? 'config' : kindOf(text, extent, stand.collections[0]);
  const around = { text, offset, extent, stand, token };
  const place = placeOf(around, node);
  return {
    extent,
    node,
    ...place,
    row: node === undefined ? undefined : findKeyRow(node, place.path),
    start: token.start,
    end: token.end,
    typed: text.slice(token.start, offset),
    isInFlow: isInFlow(stand),
    quote: token.quote,
    hasColon: token.hasColon,
    needsSpace: stand.needsSpace && !/[ \t]/.test(text.charAt(offset)),
  };
}

interface Around {
  readonly text: string;
  readonly offset: number;
  readonly extent: DocumentExtent;
  readonly stand: Stand;
  readonly token: TokenAround;
}

type Place = Pick<CompletionContext, 'path' | 'side' | 'siblings' | 'column' | 'needsDash'>;

function placeOf(around: Around, node: CompletionContext['node']): Place {
  const { stand, text } = around;
  const { collections, side, start } = stand;
  const outer = collections.slice(0, -1).map(stepInto);
  const top = collections.at(-1);
  const column = start - (text.lastIndexOf('\n', start - 1) + 1);
  if (top && (side === 'key' || side === 'value')) {
    const path = side === 'key' ? outer : [...outer, stepInto(top)];
    return { path, side, siblings: siblingsIn(around, top), column: top.column ?? column, needsDash: false };
  }
  const isItem = top !== undefined && side === 'item';
  const inside = isItem ? [...outer, top.position + 1] : collections.map(stepInto);
  const row = node === undefined ? undefined : findKeyRow(node, inside);
  const isListDue = row?.list === 'yes' && typeof inside.at(-1) === 'string';
  const path = isListDue ? [...inside, 0] : inside;
  const isMap = path.length === 0 || around.token.hasColon || holdsMap(row, path);
  const needsDash = isItem || isListDue;
  const isInList = isItem || (top?.kind === 'list' && !isMap);
  // What is begun here holds nothing yet, unless the lines below go on with it.
  const holder = isInList ? top : openCollection(isMap ? 'map' : 'list', column);
  const siblings = needsDash && isMap ? new Map() : siblingsIn(around, holder);
  return { path, side: isMap ? 'key' : 'value', siblings, column, needsDash };
}

/** Whether a value at this path is a map. Where it may also be a scalar, an item is one, for such lists name what to choose from. */
function holdsMap(row: KeyRow | undefined, path: Path): boolean {
  return row?.node !== undefined && !(row.type === 'mixed' && typeof path.at(-1) === 'number');
}

/** What else is in a collection, on both sides of the cursor. */
function siblingsIn(
  { text, offset, extent, stand, token }: Around,
  collection: Collection,
): ReadonlyMap<string, string> {
  const { column } = collection;
  if (column === undefined) new FlowScan(text, token.after, extent.end, [...stand.collections], stand.edge).finish();
  else addSiblingsAfter(collection, column, { text, offset, end: extent.end });
  return collection.entries;
}

function isInFlow({ collections }: Stand): boolean {
  const top = collections.at(-1);
  return top !== undefined && top.column === undefined;
}

/** The kind a document names on a line of its outermost map, or between its outermost brackets. */
function kindOf(text: string, { start, end }: DocumentExtent, root: Collection | undefined): Kind | undefined {
  const known = root?.entries.get('kind');
  const pattern = root && root.column === undefined ? flowKind : blockKind;
  const name = known === undefined || known === '' ? pattern.exec(text.slice(start, end))?.[1] : known;
  return kinds.find((kind) => kind === name);
}

const blockKind = /^kind:[ \t]+["']?([a-z]+)/m;
const flowKind = /[{,]\s*["']?kind["']?:\s*["']?([a-z]+)/;
