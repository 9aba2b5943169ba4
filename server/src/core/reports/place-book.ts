import type { Finding, Place } from '../checks/finding.ts';
import { resolveEach } from '../checks/resolve-findings.ts';
import { spanOf } from '../checks/resolve-place.ts';
import type { Tape } from '../syntax/tape.ts';
import { cutText } from '../text/cut-text.ts';
import { LineIndex } from '../text/line-index.ts';

/** A line of a file around what is marked in it. Long lines are cut, with `…` where something is left out. */
interface Excerpt {
  readonly before: string;
  /** Empty where a place is a point between two characters. */
  readonly marked: string;
  readonly after: string;
}

/** A place as a report shows it. */
export interface ShownPlace {
  readonly file: string;
  /** Counted from 1. */
  readonly line: number;
  /** Undefined where the line is empty. */
  readonly excerpt: Excerpt | undefined;
}

/** UTF-16 code units of a line that are shown before, in and after what is marked. */
const [mostBefore, mostMarked, mostAfter] = [60, 120, 60];

/** Shows places in the texts of some files. */
export class PlaceBook {
  private readonly lines = new Map<string, LineIndex>();

  /** Tapes by the paths of files, as they were when they were checked. */
  constructor(private readonly tapes: ReadonlyMap<string, Tape>) {}

  /** The place in lines; undefined where the text of its file is not at hand. */
  show({ file, target }: Place): ShownPlace | undefined {
    const tape = this.tapes.get(file);
    if (!tape) return undefined;
    const lines = this.lines.get(file) ?? new LineIndex(tape.text);
    this.lines.set(file, lines);
    const span = spanOf(tape, target);
    const { start, end } = lines.rangeOf(span.start, span.end);
    const text = lines.lineText(start.line);
    const markEnd = end.line === start.line ? end.character : text.length;
    return { file, line: start.line + 1, excerpt: excerptOf(text, start.character, markEnd) };
  }

  /** Findings by file, place in the file, check and message, as they are listed everywhere (invariant 13). */
  inOrder(findings: readonly Finding[]): Finding[] {
    return resolveEach(findings, this.tapes).map(([, finding]) => finding);
  }
}

function excerptOf(line: string, start: number, end: number): Excerpt | undefined {
  if (line.trim() === '') return undefined;
  const before = line.slice(0, start).trimStart();
  return {
    before: before.length > mostBefore ? `…${before.slice(-mostBefore).replace(/^[\udc00-\udfff]/, '')}` : before,
    marked: cutText(line.slice(start, end), mostMarked),
    after: cutText(line.slice(end).trimEnd(), mostAfter),
  };
}
