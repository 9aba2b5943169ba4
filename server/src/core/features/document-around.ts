/** A document of a file by the text alone: half-open UTF-16 offsets of what stands between its markers. */
export interface DocumentExtent {
  /** Position of the document in the file, counted from 0 as the tape does. */
  readonly document: number;
  readonly start: number;
  readonly end: number;
}

/** The document an offset stands in; undefined within a marker. At the left edge before a marker that is the document before it. */
export function documentAround(text: string, offset: number): DocumentExtent | undefined {
  let markers = 0;
  let start = 0;
  let first = text.length;
  for (const marker of markersFrom(text, 0)) {
    if (marker >= offset) break;
    if (offset <= marker + markerLength) return undefined;
    if (text.charAt(marker) === '-') markers++;
    start = marker + markerLength;
    first = Math.min(first, marker);
  }
  // What stands before the first marker is a document of its own only if there is something to read.
  const isFirstEmpty = start === 0 || !/^[ \t]*[^ \t\r\n#%]/m.test(text.slice(0, first));
  const [end = text.length] = markersFrom(text, offset);
  return { document: start === 0 ? 0 : Math.max(0, isFirstEmpty ? markers - 1 : markers), start, end };
}

const markerLength = 3;

/** Offsets of the lines, from the one that holds `from` on, that end a document: `---` and `...`. */
function* markersFrom(text: string, from: number): Generator<number> {
  const dashes = new MarkerWalk(text, '---', from);
  const dots = new MarkerWalk(text, '...', from);
  for (;;) {
    const at = Math.min(dashes.at, dots.at);
    if (at >= text.length) return;
    if (at >= from) yield at;
    (at === dashes.at ? dashes : dots).advance();
  }
}

/** Walks over the lines that begin with one marker. */
class MarkerWalk {
  /** Where the marker stands; the length of the text past the last one. */
  at: number;

  constructor(
    private readonly text: string,
    private readonly marker: string,
    from: number,
  ) {
    const isFirst = from === 0 && this.isMarkerAt(0);
    this.at = isFirst ? 0 : this.next(Math.max(0, from - 1));
  }

  advance(): void {
    this.at = this.next(this.at);
  }

  private next(from: number): number {
    let found = this.text.indexOf(`\n${this.marker}`, from);
    while (found >= 0 && !this.isMarkerAt(found + 1)) found = this.text.indexOf(`\n${this.marker}`, found + 1);
    return found < 0 ? this.text.length : found + 1;
  }

  private isMarkerAt(at: number): boolean {
    const after = this.text.charAt(at + this.marker.length);
    return this.text.startsWith(this.marker, at) && (after === '' || /\s/.test(after));
  }
}
