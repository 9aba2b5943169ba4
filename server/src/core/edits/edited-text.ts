import type { TextEdit } from './text-edit.ts';

/** A stretch that still stands as in the first text, or text that was put in. */
type Piece = { readonly start: number; readonly end: number } | { readonly text: string };

/** A text that is edited step by step, and what these steps come to for the text it was at first. */
export class EditedText {
  private pieces: readonly Piece[];

  constructor(private readonly original: string) {
    this.pieces = [{ start: 0, end: original.length }];
  }

  /** The text as it stands now. */
  get text(): string {
    return this.pieces.map((piece) => this.textOf(piece)).join('');
  }

  /** Applies edits that were made for the text as it stands now. */
  apply(edits: readonly TextEdit[]): void {
    for (const edit of edits.toReversed()) {
      const { before } = this.cut(edit.start);
      const { after } = this.cut(edit.end);
      this.pieces = [...before, { text: edit.text }, ...after];
    }
  }

  /** The edits of the first text that give the text as it stands now; none that change nothing. */
  get edits(): readonly TextEdit[] {
    const edits: TextEdit[] = [];
    let at = 0;
    let text = '';
    const close = (start: number): void => {
      edits.push({ start: at, end: start, text });
      text = '';
    };
    for (const piece of this.pieces) {
      if ('text' in piece) text += piece.text;
      else {
        close(piece.start);
        at = piece.end;
      }
    }
    close(this.original.length);
    return edits.filter(({ start, end, text: put }) => this.original.slice(start, end) !== put);
  }

  private textOf(piece: Piece): string {
    return 'text' in piece ? piece.text : this.original.slice(piece.start, piece.end);
  }

  /** The pieces before and after an offset of the text as it stands now; one that holds the offset is cut in two. */
  private cut(offset: number): { readonly before: readonly Piece[]; readonly after: readonly Piece[] } {
    let left = offset;
    for (const [position, piece] of this.pieces.entries()) {
      const length = this.textOf(piece).length;
      if (left < length) {
        const [head, tail] = splitPiece(piece, left);
        const before = this.pieces.slice(0, position);
        return { before: left > 0 ? [...before, head] : before, after: [tail, ...this.pieces.slice(position + 1)] };
      }
      left -= length;
    }
    return { before: this.pieces, after: [] };
  }
}

function splitPiece(piece: Piece, at: number): readonly [Piece, Piece] {
  if ('text' in piece) return [{ text: piece.text.slice(0, at) }, { text: piece.text.slice(at) }];
  const { start, end } = piece;
  return [
    { start, end: start + at },
    { start: start + at, end },
  ];
}
