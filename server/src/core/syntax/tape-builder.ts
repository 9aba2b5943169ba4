import { sharedPart } from '../text/shared-text.ts';
import { limits } from './limits.ts';
import { leave } from './plain-text.ts';
import type { EntryKind, TapeEntry } from './tape.ts';

type Writable = { -readonly [Name in keyof TapeEntry]: TapeEntry[Name] };

/** Collects the entries of the fast reader. A key is set first and goes to the next entry. */
export class TapeBuilder {
  readonly entries: TapeEntry[] = [];
  private readonly open: Writable[] = [];
  private key: string | undefined;
  private keyStart = -1;
  private keyEnd = -1;

  /** Makes the part of the text between two offsets the key of the next entry. */
  setKey(text: string, start: number, end: number): void {
    // YAML allows no implicit key of more than 1,024 characters.
    if (end - start > 1024) leave();
    this.key = sharedPart(text, start, end);
    this.keyStart = start;
    this.keyEnd = end;
  }

  scalar(kind: EntryKind, start: number, end: number, text: string): void {
    this.add(kind, start, end, text);
    this.extendParent(end);
  }

  openContainer(kind: 'map' | 'list', start: number): void {
    if (this.open.length >= limits.depth) leave();
    this.open.push(this.add(kind, start, start, ''));
  }

  /** Ends the innermost container: behind its bracket, or, without one, where its last child ends. */
  closeContainer(end?: number): void {
    const container = this.open.pop();
    if (!container) return;
    container.skip = this.entries.length;
    if (end !== undefined) container.end = end;
    this.extendParent(container.end);
  }

  private extendParent(end: number): void {
    const parent = this.open.at(-1);
    if (parent) parent.end = end;
  }

  private add(kind: EntryKind, start: number, end: number, text: string): Writable {
    const entry: Writable = {
      kind,
      key: this.key,
      keyStart: this.keyStart,
      keyEnd: this.keyEnd,
      start,
      end,
      skip: this.entries.length + 1,
      text,
      tag: undefined,
      target: -1,
    };
    this.entries.push(entry);
    this.key = undefined;
    this.keyStart = -1;
    this.keyEnd = -1;
    return entry;
  }
}
