/**
 * Laws (test/property/text-document.property.test.ts):
 * - after changes one by one or all at once holds what cutting and pasting gives
 */
import type { TextDocumentContentChangeEvent } from 'vscode-languageserver';
import { type RecordFile, readRecordFile } from '../core/model/file-facts.ts';
import { contentIdOf } from '../host/content-id.ts';
import { type Encoding, TextPositions } from './text-positions.ts';

/** One version of a text that an editor holds. Immutable; what follows from the text is computed when first asked for. */
export class TextDocument {
  private knownPositions: TextPositions | undefined;
  private knownContent: { readonly bytes: Uint8Array; readonly contentId: string } | undefined;
  private knownReading: RecordFile | undefined;

  constructor(
    /** As the client spells it. */
    readonly uri: string,
    readonly version: number,
    readonly text: string,
    private readonly encoding: Encoding,
  ) {}

  /** The document after these changes, each of which counts from the text the one before has left. */
  with(version: number, changes: readonly TextDocumentContentChangeEvent[]): TextDocument {
    let document: TextDocument = this;
    for (const change of changes)
      document = new TextDocument(this.uri, version, document.afterChange(change), this.encoding);
    return document;
  }

  /** Positions in the encoding agreed on. */
  get positions(): TextPositions {
    this.knownPositions ??= new TextPositions(this.text, this.encoding);
    return this.knownPositions;
  }

  /** What would be in the file if it were saved now, with the id of that content. */
  get content(): { readonly bytes: Uint8Array; readonly contentId: string } {
    if (!this.knownContent) {
      const bytes = new TextEncoder().encode(this.text);
      this.knownContent = { bytes, contentId: contentIdOf(bytes) };
    }
    return this.knownContent;
  }

  /** The text read as a file of records. */
  get reading(): RecordFile {
    this.knownReading ??= readRecordFile(this.content.bytes);
    return this.knownReading;
  }

  private afterChange(change: TextDocumentContentChangeEvent): string {
    if (!('range' in change)) return change.text;
    const [start, end] = [this.positions.offsetAt(change.range.start), this.positions.offsetAt(change.range.end)];
    return this.text.slice(0, Math.min(start, end)) + change.text + this.text.slice(Math.max(start, end));
  }
}
