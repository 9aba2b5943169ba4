/**
 * Offsets of a text as an editor counts them. Only here do units other than UTF-16 occur.
 * Laws (test/property/text-positions.property.test.ts):
 * - in every encoding offset to position and back gives the offset, line ends and halves of characters apart
 * - in utf-16 positions are those of the line index
 * - a position within a character stands at its start
 */
import type { ClientCapabilities, Position, Range } from 'vscode-languageserver';
import type { Span } from '../core/syntax/tape.ts';
import { LineIndex } from '../core/text/line-index.ts';

const encodings = ['utf-16', 'utf-8', 'utf-32'] as const;

/** What an editor counts a line's characters in: UTF-16 code units, UTF-8 bytes or code points. Source: LSP 3.17, PositionEncodingKind. */
export type Encoding = (typeof encodings)[number];

/** The first encoding the client names that is known; `utf-16` where it names none. */
export function chooseEncoding(client: ClientCapabilities): Encoding {
  const offered = client.general?.positionEncodings ?? [];
  return (
    offered.map((name) => encodings.find((known) => known === name)).find((found) => found !== undefined) ?? 'utf-16'
  );
}

/** Positions of one text in one encoding. */
export class TextPositions {
  private readonly lines: LineIndex;

  constructor(
    text: string,
    private readonly encoding: Encoding,
  ) {
    this.lines = new LineIndex(text);
  }

  /** The offset of a position; past the end of its line the end of the line, within a character its start. */
  offsetAt({ line, character }: Position): number {
    if (this.encoding === 'utf-16') return this.lines.offsetAt({ line, character });
    const text = this.lines.lineText(line);
    let at = 0;
    for (let left = character; at < text.length; at += unitsAt(text, at)) {
      left -= this.widthAt(text, at);
      if (left < 0) break;
    }
    return this.lines.offsetAt({ line, character: at });
  }

  /** The position of an offset. */
  positionAt(offset: number): Position {
    const { line, character } = this.lines.positionAt(offset);
    if (this.encoding === 'utf-16') return { line, character };
    const text = this.lines.lineText(line);
    let width = 0;
    for (let at = 0; at < character; at += unitsAt(text, at)) width += this.widthAt(text, at);
    return { line, character: width };
  }

  /** The range of a stretch of text. */
  rangeOf({ start, end }: Span): Range {
    return { start: this.positionAt(start), end: this.positionAt(end) };
  }

  private widthAt(text: string, at: number): number {
    return this.encoding === 'utf-32' ? 1 : bytesOf(text.codePointAt(at) ?? 0);
  }
}

/** UTF-16 units of the character that begins there. */
function unitsAt(text: string, at: number): number {
  return (text.codePointAt(at) ?? 0) > 0xffff ? 2 : 1;
}

/** Bytes of a character in UTF-8. A half of a character that stands alone counts as what it is replaced by, three bytes. */
function bytesOf(codePoint: number): number {
  if (codePoint < 0x80) return 1;
  if (codePoint < 0x800) return 2;
  return codePoint < 0x10000 ? 3 : 4;
}
