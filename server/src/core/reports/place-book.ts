import type { Finding, Place } from '../checks/finding.ts';
import { spanOf } from '../checks/resolve-place.ts';
import type { Tape } from '../syntax/tape.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
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

/** Characters of a line that are shown before, in and after what is marked. */
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
    const placed = findings.map((finding) => ({ finding, start: this.startOf(finding.place) }));
    return placed
      .sort(
        (a, b) =>
          byCodeUnits(a.finding.place.file, b.finding.place.file) ||
          a.start - b.start ||
          byCodeUnits(a.finding.check, b.finding.check) ||
          byCodeUnits(a.finding.message, b.finding.message),
      )
      .map(({ finding }) => finding);
  }

  private startOf({ file, target }: Place): number {
    const tape = this.tapes.get(file);
    return tape ? spanOf(tape, target).start : 0;
  }
}

function excerptOf(line: string, start: number, end: number): Excerpt | undefined {
  if (line.trim() === '') return undefined;
  const before = line.slice(0, start).trimStart();
  return {
    before: before.length > mostBefore ? `…${whole(before.slice(-mostBefore))}` : before,
    marked: cut(line.slice(start, end), mostMarked),
    after: cut(line.slice(end).trimEnd(), mostAfter),
  };
}

function cut(text: string, most: number): string {
  return text.length > most ? `${whole(text.slice(0, most))}…` : text;
}

/** The text without half a character at either end. */
function whole(text: string): string {
  return text.replace(/^[\udc00-\udfff]|[\ud800-\udbff]$/g, '');
}
