import { keyRowsIn } from '../schema/key-rows.ts';
import type { Path } from '../syntax/tape.ts';
import type { Value, ValueMap } from './intent.ts';
import type { Layout } from './layout.ts';
import { type BlockScalar, foldedScalar, lineScalar, literalScalar, type ScalarStyle } from './write-scalar.ts';

/** Longest line on which a map or list stands between brackets, in columns. Source: the demo base. */
const flowWidth = 88;
/** Longest line on which a text stands whole; a longer one is wrapped, at `flowWidth`. Source: the demo base. */
const textWidth = 120;

/** Where a value is to stand. */
export interface Site {
  /** Kind of the record, or `config`; it gives the order of keys. */
  readonly node: string;
  readonly path: Path;
  readonly layout: Layout;
  /** Column of the key or dash that the value belongs to. */
  readonly column: number;
  /** Column at which the value begins if it stays on that line. */
  readonly at: number;
  readonly style: ScalarStyle;
  /** Whether lists and maps are written between brackets, however long; undefined: by their length. */
  readonly isFlow?: boolean | undefined;
}

/** A value as it is typed: what stands on the line of its key or dash, and whole lines below. */
export interface Written {
  readonly head: string;
  readonly below: readonly string[];
}

/** A value at a key or dash that stands between no brackets. */
export function writeValue(value: Value, site: Site): Written {
  if (typeof value === 'string') return writeText(value, site);
  if (isScalar(value)) return { head: lineScalar(value, site.style, false), below: [] };
  const onLine = flowValue(value, site);
  const isEmpty = onLine.length <= 2;
  const isShort = isFlat(value) && site.at + onLine.length <= flowWidth;
  if (isEmpty || (site.isFlow ?? isShort)) return { head: onLine, below: [] };
  return isList(value) ? writeList(value, site) : writeMap(value, site);
}

/** A map over several lines, as under a key or as a whole document. `column` is that of its keys. */
export function mapLines(value: ValueMap, site: Site, column: number): readonly string[] {
  const pad = ' '.repeat(column);
  return orderedEntries(value, site).flatMap(([key, inner]) => {
    const head = `${pad}${writeKey(key, 'plain', false)}:`;
    const path = [...site.path, key];
    const written = writeValue(inner, {
      ...site,
      path,
      column,
      at: head.length + 1,
      style: 'plain',
      isFlow: undefined,
    });
    return [written.head === '' ? head : `${head} ${written.head}`, ...written.below];
  });
}

/** A list item with its dash, which stands at `column`; the first line is without indent. */
export function itemLines(value: Value, site: Site, column: number): readonly [string, ...string[]] {
  const written = writeValue(value, { ...site, column, at: column + 2 });
  if (written.head !== '') return [`- ${written.head}`, ...written.below];
  const [first = '', ...rest] = written.below;
  return [`- ${first.trimStart()}`, ...rest];
}

/** A value on one line between brackets or by itself. */
export function flowValue(value: Value, site: Site): string {
  if (isScalar(value)) return lineScalar(value, lineStyle(site.style), true);
  if (isList(value)) {
    return `[${value.map((item, position) => flowValue(item, below(site, position))).join(', ')}]`;
  }
  const entries = orderedEntries(value, site).map(([key, inner]) => flowPair(key, inner, site));
  if (entries.length === 0) return '{}';
  return site.layout.isPadded ? `{ ${entries.join(', ')} }` : `{${entries.join(', ')}}`;
}

/** A key and its value between braces. `site` is that of the map. */
export function flowPair(key: string, value: Value, site: Site): string {
  return `${writeKey(key, site.style, true)}: ${flowValue(value, below(site, key))}`;
}

/** A key as it is typed. */
export function writeKey(key: string, style: ScalarStyle, isFlow: boolean): string {
  return lineScalar(key, lineStyle(style), isFlow);
}

function lineStyle(style: ScalarStyle): ScalarStyle {
  return style === 'literal' || style === 'folded' ? 'plain' : style;
}

function below(site: Site, step: string | number): Site {
  return { ...site, path: [...site.path, step] };
}

function writeText(text: string, { style, column, at }: Site): Written {
  const width = flowWidth - column - 2;
  const block = blockFor(text, style, at, width);
  if (!block) return { head: lineScalar(text, lineStyle(style), false), below: [] };
  const pad = ' '.repeat(column + 2);
  return { head: block.header, below: block.lines.map((line) => (line === '' ? '' : pad + line)) };
}

/** The text as a block where it was one, has several lines, or is too long for one; undefined where a line does. */
function blockFor(text: string, style: ScalarStyle, at: number, width: number): BlockScalar | undefined {
  if (style === 'folded') return foldedScalar(text, width) ?? literalScalar(text);
  if (text.includes('\n')) return literalScalar(text);
  const isLong = style === 'literal' || (style === 'plain' && at + text.length > textWidth);
  return isLong && at + text.length > flowWidth ? foldedScalar(text, width) : undefined;
}

function writeMap(value: ValueMap, site: Site): Written {
  return { head: '', below: mapLines(value, site, site.column + indentOf(site, site.layout.mapStep)) };
}

function writeList(value: readonly Value[], site: Site): Written {
  const column = site.column + indentOf(site, site.layout.listStep);
  const lines = value.flatMap((item, position) => {
    const [first, ...rest] = itemLines(item, { ...below(site, position), style: 'plain', isFlow: undefined }, column);
    return [' '.repeat(column) + first, ...rest];
  });
  return { head: '', below: lines };
}

/** What belongs to a dash stands right behind it, so that it has one line with it. */
function indentOf({ path }: Site, step: number): number {
  return typeof path.at(-1) === 'number' ? 2 : step;
}

/** The keys of a map in the schema's order; those the schema does not know last, as they come. */
function orderedEntries(value: ValueMap, { node, path }: Site): readonly (readonly [string, Value])[] {
  const rank = keyRanks(node, path);
  return Object.entries(value).sort(([a], [b]) => rank(a) - rank(b));
}

/** The place of a key among those of the map at a path; keys the schema does not know come last. */
export function keyRanks(node: string, path: Path): (key: string) => number {
  const names = keyRowsIn(node, path).map(({ name }) => name);
  return (key) => {
    const rank = names.indexOf(key);
    return rank < 0 ? names.length : rank;
  };
}

function isScalar(value: Value): value is string | number | boolean {
  return typeof value !== 'object';
}

function isList(value: Value): value is readonly Value[] {
  return Array.isArray(value);
}

/** Whether a map or list holds scalars, and lists of scalars, and none that need more than a line. */
function isFlat(value: readonly Value[] | ValueMap): boolean {
  return Object.values(value).every((inner: Value) =>
    isScalar(inner) ? !String(inner).includes('\n') : isList(inner) && inner.every(isScalar) && isFlat(inner),
  );
}
