/**
 * Short texts beside values: what the base makes of them and what does not stand in the text already.
 * Laws (test/property/inlay-hints.property.test.ts):
 * - hints stand inside the asked span, at the end of a value, in the order of the text
 * - the hints of a span are those of the whole file that stand in it
 * - a hint never repeats a value of its record
 * - no text, whole, cut off or damaged, makes it throw
 * - nothing is said before the base is indexed, and nothing that is not wanted
 */
import type { Snapshot } from '../index/snapshot.ts';
import { findEntry, type Path, type Span, type Tape, type TapeEntry } from '../syntax/tape.ts';
import { foldText } from '../text/fold.ts';
import { driveHints } from './drive-hints.ts';
import type { HintDraft } from './hint-draft.ts';
import { nameHints } from './name-hints.ts';
import type { OpenFile } from './open-file.ts';
import { outcomeHints } from './outcome-hints.ts';
import { type StandingRecord, standingRecords } from './standing-records.ts';

/** Which hints somebody wants to see: verdicts and shares of outcomes, and decoded values. */
export interface HintWants {
  readonly verdicts: boolean;
  readonly decoded: boolean;
}

/** A short text beside a value. */
export interface InlayHint {
  /** End of the value, a UTF-16 offset. */
  readonly offset: number;
  readonly text: string;
  /** Why it is so; plain text in sentences. */
  readonly detail: string;
}

/** The hints whose values end inside a half-open span of a file; none before the base is indexed. */
export function inlayHints(file: OpenFile, span: Span, wants: HintWants): readonly InlayHint[] {
  const { isIndexed, snapshot, tape } = file;
  if (!isIndexed) return [];
  const asked = standingRecords(file).filter(({ root }) => isTouched(tape.entries[root], span));
  const hints = asked.flatMap((standing) => hintsOf(standing, file, draftsOf(standing, wants, snapshot)));
  return hints.filter(({ offset }) => span.start <= offset && offset <= span.end);
}

function isTouched(entry: TapeEntry | undefined, { start, end }: Span): boolean {
  return entry !== undefined && entry.start <= end && start <= entry.end;
}

function draftsOf({ record }: StandingRecord, wants: HintWants, snapshot: Snapshot): readonly HintDraft[] {
  return [
    ...(wants.verdicts && record.kind === 'outcome' ? outcomeHints(record, snapshot) : []),
    ...(wants.decoded && record.kind === 'drive' ? driveHints(record, snapshot) : []),
    ...(wants.decoded ? nameHints(record, snapshot) : []),
  ];
}

function hintsOf({ root }: StandingRecord, { tape }: OpenFile, drafts: readonly HintDraft[]): InlayHint[] {
  if (drafts.length === 0) return [];
  const known = textsIn(tape, root);
  const placed = drafts.flatMap(({ at, text, detail }) => {
    const offset = known.has(foldText(text)) ? undefined : endOf(tape, root, at);
    return offset === undefined ? [] : [{ offset, text, detail }];
  });
  return placed.sort((a, b) => a.offset - b.offset);
}

/** The values of a record as typed, folded. */
function textsIn(tape: Tape, root: number): ReadonlySet<string> {
  const inside = tape.entries.slice(root, tape.entries[root]?.skip ?? root);
  return new Set(inside.flatMap(({ text }) => (text === '' ? [] : foldText(text))));
}

/** The end of the first of these values that stands in the text. */
function endOf(tape: Tape, root: number, paths: readonly Path[]): number | undefined {
  for (const path of paths) {
    const { entry, depth } = findEntry(tape, root, path);
    const found = tape.entries[entry];
    if (found && depth === path.length && found.kind !== 'empty') return trimmedEnd(tape.text, found);
  }
  return undefined;
}

/** Block text reaches over the line break that ends it. */
function trimmedEnd(text: string, { start, end }: Span): number {
  return start + text.slice(start, end).trimEnd().length;
}
