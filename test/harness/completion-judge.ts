import { childrenOf, type Path, type Tape, type TapeEntry } from '../../server/src/core/syntax/tape.ts';

/** What may be typed at an offset: a key of the map at a path, the value at a path, or nothing at all. */
export type Typeable = { readonly side: 'key' | 'value'; readonly path: Path } | 'nothing';

/**
 * What may be typed at every offset of a whole file, told from its tape and, between what is on the tape, from the columns and
 * commas of the text; undefined where the whole file does not tell:
 * - on a key or scalar, that key or value; behind a colon or dash the value that follows there
 * - between brackets what follows the last comma; before it, behind a plain scalar, still that scalar, for it may go on
 * - on a line that is blank so far, what begins there; else a key of the map, or an item of the list, that is open and has its keys or
 *   dashes in this column; other columns are not judged
 * - in comments, block text and markers, and behind anything that is closed, nothing
 * It knows neither the schema nor how the text came about, so it judges by other means than what it is held against.
 */
export function judgeFile(tape: Tape): readonly (Typeable | undefined)[] {
  return new Judge(tape).judge();
}

/** A block map or list by the column of its keys or dashes. */
interface Open {
  readonly path: Path;
  readonly kind: 'map' | 'list';
  readonly column: number;
  readonly start: number;
  /** Where what holds it ends: until there it may go on. */
  readonly goesOnUntil: number;
  readonly items: readonly TapeEntry[];
}

class Judge {
  private readonly found: (Typeable | undefined)[];
  private readonly opens: Open[] = [];
  private readonly text: string;
  /** Whether an offset lies within a scalar, so that a `#` there begins no comment. */
  private readonly isScalar: boolean[] = [];

  constructor(private readonly tape: Tape) {
    this.text = tape.text;
    this.found = Array.from({ length: tape.text.length + 1 });
  }

  judge(): readonly (Typeable | undefined)[] {
    const { tape, text } = this;
    const markers = [...text.matchAll(/^---(?=\s|$)/gm)].map(({ index }) => index);
    for (const { root } of tape.documents) {
      const start = tape.entries[root]?.start ?? 0;
      const end = markers.find((marker) => marker > start) ?? text.length;
      if (root >= 0) this.entry(root, [], end);
    }
    this.lineStarts(markers);
    for (const marker of markers) this.fill(marker + 1, marker + 3, 'nothing');
    this.comments();
    return this.found;
  }

  /** Sets what may be typed from one offset to another, both included. */
  private fill(from: number, to: number, what: Typeable): void {
    for (let at = from; at <= to; at++) this.found[at] = what;
  }

  private entry(index: number, path: Path, documentEnd: number): void {
    const entry = this.tape.entries[index]!;
    if (entry.keyStart >= 0) {
      this.fill(entry.keyStart, entry.keyEnd, { side: 'key', path: path.slice(0, -1) });
      const lineEnd = this.lineEnd(entry.keyEnd);
      const isHere = entry.kind !== 'empty' && entry.start <= lineEnd;
      this.fill(entry.keyEnd + 1, isHere ? entry.start : lineEnd, { side: 'value', path });
    }
    const { kind, start, end } = entry;
    if (kind === 'map' || kind === 'list') this.collection(index, path, documentEnd);
    else if (kind === 'block') this.blockText(entry, path);
    else if (kind === 'plain' || kind === 'quoted') {
      this.fill(start, end, { side: 'value', path });
      this.fill(end + 1, this.spacesEnd(end), kind === 'plain' ? { side: 'value', path } : 'nothing');
      for (let at = start; at < end; at++) this.isScalar[at] = true;
    }
  }

  private blockText(entry: TapeEntry, path: Path): void {
    this.fill(entry.start, entry.start, { side: 'value', path });
    this.fill(entry.start + 1, entry.end - 1, 'nothing');
    for (let at = entry.start; at < entry.end; at++) this.isScalar[at] = true;
  }

  private collection(index: number, path: Path, documentEnd: number): void {
    const { tape, text } = this;
    const { start, end, kind } = tape.entries[index]!;
    const children = [...childrenOf(tape, index)];
    const isFlow = /[{[]/.test(text.charAt(start));
    const stepOf = (child: number, position: number) => (kind === 'map' ? tape.entries[child]!.key! : position);
    if (isFlow) {
      this.fill(start + 1, end - 1, {
        side: kind === 'map' ? 'key' : 'value',
        path: kind === 'map' ? path : [...path, 0],
      });
      this.fill(end, this.spacesEnd(end), 'nothing');
    }
    for (const [position, child] of children.entries()) {
      const inside = [...path, stepOf(child, position)];
      if (isFlow) this.flowGap(kind === 'map', path, position, child);
      else if (kind === 'list') this.dashGap(tape.entries[child]!, inside);
      this.entry(child, inside, documentEnd);
    }
    if (isFlow || children.length === 0) return;
    const items = children.map((child) => tape.entries[child]!);
    const first = items[0]!;
    const at = kind === 'map' ? first.keyStart : this.dashBefore(first.start);
    this.opens.push({
      path,
      kind: kind === 'map' ? 'map' : 'list',
      column: this.columnOf(at),
      start: at,
      goesOnUntil: documentEnd,
      items,
    });
  }

  /** Between brackets: what follows a comma. What stands before it is said by the entry it follows. */
  private flowGap(isMap: boolean, path: Path, position: number, child: number): void {
    const entry = this.tape.entries[child]!;
    const start = isMap ? entry.keyStart : entry.start;
    let comma = start;
    while (comma > 0 && !/[,{[]/.test(this.text.charAt(comma))) comma--;
    if (!isMap && comma === start) {
      comma--;
      while (comma > 0 && !/[,[]/.test(this.text.charAt(comma))) comma--;
    }
    this.fill(comma + 1, start, isMap ? { side: 'key', path } : { side: 'value', path: [...path, position] });
  }

  private dashGap(item: TapeEntry, path: Path): void {
    const dash = this.dashBefore(item.start);
    this.fill(dash + 1, item.start, { side: item.kind === 'map' ? 'key' : 'value', path });
  }

  private dashBefore(offset: number): number {
    return this.text.lastIndexOf('-', offset - 1);
  }

  /** Lines that are blank so far. */
  private lineStarts(markers: readonly number[]): void {
    const { text } = this;
    for (let lineStart = 0; lineStart <= text.length; lineStart = this.lineEnd(lineStart) + 1) {
      const lineEnd = this.lineEnd(lineStart);
      let content = lineStart;
      while (content < lineEnd && text.charAt(content) === ' ') content++;
      const documentStart = markers.findLast((marker) => marker < lineStart) ?? 0;
      for (let at = lineStart; at <= content; at++) {
        const begun = at === content ? this.begunAt(at) : undefined;
        const open = begun ?? this.openAt(at, at - lineStart, documentStart);
        if (open) this.found[at] = open;
        else if (at < content && this.isLeftOfOpen(at, at - lineStart)) this.found[at] = undefined;
      }
    }
  }

  /** Whether what the offset stands in is held by a collection whose keys or dashes do not stand left of this column. */
  private isLeftOfOpen(at: number, column: number): boolean {
    return (
      column <=
      (this.opens
        .filter(({ start }) => start < at)
        .sort((a, b) => a.start - b.start)
        .at(-1)?.column ?? -1)
    );
  }

  /** What the text of a line begins with: a dash, or what was found before. */
  private begunAt(at: number): Typeable | undefined {
    const list = this.opens.find(
      ({ kind, items }) => kind === 'list' && items.some(({ start }) => this.dashBefore(start) === at),
    );
    if (!list) return this.found[at];
    const position = list.items.findIndex(({ start }) => this.dashBefore(start) === at);
    return { side: list.items[position]!.kind === 'map' ? 'key' : 'value', path: [...list.path, position] };
  }

  /** A key or an item in a collection that is open at an offset and has its keys or dashes in this column. */
  private openAt(at: number, column: number, documentStart: number): Typeable | undefined {
    const before = this.opens.filter(
      ({ start, goesOnUntil }) => start < at && start >= documentStart && at <= goesOnUntil,
    );
    if (before.length === 0) return column === 0 ? { side: 'key', path: [] } : undefined;
    // A collection is left as soon as a key or dash stands left of it.
    const isOpen = (open: Open) => before.every((other) => !this.hasEntryBetween(other, open, at));
    const fitting = before.filter((open) => open.column === column && isOpen(open));
    const found = fitting.find(({ kind }) => kind === 'map') ?? fitting[0];
    if (found?.kind !== 'list') return found && { side: 'key', path: found.path };
    const position = found.items.filter(({ start }) => start < at).length;
    return { side: found.items[position - 1]!.kind === 'map' ? 'key' : 'value', path: [...found.path, position] };
  }

  private hasEntryBetween(other: Open, open: Open, at: number): boolean {
    if (other.column >= open.column) return this.isLaterSibling(other, open, at);
    return other.items.some((item) => this.placeOf(other, item) > open.start && this.placeOf(other, item) < at);
  }

  /** Whether another collection at the same column began after this one, as in the next item of a list. */
  private isLaterSibling(other: Open, open: Open, at: number): boolean {
    const isInside = open.path.every((step, depth) => other.path[depth] === step);
    return (
      other.column === open.column &&
      other.kind === open.kind &&
      !isInside &&
      other.start > open.start &&
      other.start < at
    );
  }

  private placeOf({ kind }: Open, item: TapeEntry): number {
    return kind === 'map' ? item.keyStart : this.dashBefore(item.start);
  }

  private comments(): void {
    for (const { index } of this.text.matchAll(/(?<=^|\s)#/gm)) {
      if (this.isScalar[index] !== true) this.fill(index + 1, this.lineEnd(index), 'nothing');
    }
  }

  private lineEnd(at: number): number {
    const found = this.text.indexOf('\n', at);
    return found < 0 ? this.text.length : found;
  }

  private spacesEnd(at: number): number {
    let end = at;
    while (this.text.charAt(end) === ' ') end++;
    return end;
  }

  private columnOf(at: number): number {
    return at - (this.text.lastIndexOf('\n', at - 1) + 1);
  }
}
