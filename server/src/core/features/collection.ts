/** A map or list that is open where the cursor stands, as far as the text up to there tells. Filled while the text is read. */
export interface Collection {
  readonly kind: 'map' | 'list';
  /** Column of its keys or dashes; undefined between brackets. */
  readonly column: number | undefined;
  /** Keys read so far with their scalars, empty where these span lines or are maps and lists; of a list its scalar items, each with an empty text. */
  readonly entries: Map<string, string>;
  /** Key whose value is being read; undefined before the first. */
  key: string | undefined;
  /** Position of the item that is being read, counted from 0; -1 before the first dash. */
  position: number;
  /** What is known of the current value: nothing yet, complete, or a block map or list. */
  value: 'none' | 'complete' | 'nested';
}

/** A map or list that holds nothing yet. */
export function openCollection(kind: Collection['kind'], column: number | undefined): Collection {
  const position = kind === 'list' && column === undefined ? 0 : -1;
  return { kind, column, entries: new Map(), key: undefined, position, value: 'none' };
}

/** The step from a collection to the value that is being read in it. */
export function stepInto({ kind, key, position }: Collection): string | number {
  return kind === 'list' ? Math.max(position, 0) : (key ?? '');
}

/** Takes down a complete scalar, or an empty text for any other value. */
export function completeValue(collection: Collection | undefined, text: string): void {
  if (!collection) return;
  collection.value = 'complete';
  if (collection.kind === 'map' && collection.key !== undefined) collection.entries.set(collection.key, text);
  if (collection.kind === 'list' && text !== '') collection.entries.set(text, '');
}

/** What stands between the cursor and what was read before it. */
export interface Stand {
  readonly collections: readonly Collection[];
  /** Column of the block map or list around the brackets the cursor stands in: text left of it cannot belong to them. */
  readonly edge: number;
  /** `open`: the value under the last key or dash, which may yet become a map; `item`: a dash is due before anything else. */
  readonly side: 'key' | 'value' | 'open' | 'item';
  /** Where that which is being typed begins, its quote included; the cursor where nothing is typed yet. */
  readonly start: number;
  readonly quote: '"' | "'" | undefined;
  /** Whether the cursor stands right behind a colon or dash, which count only with a space behind them. */
  readonly needsSpace: boolean;
}

/** What a reader gives that has reached the cursor: where that stands, or that nothing can be typed there. */
export type Arrival = Stand | 'nothing';
