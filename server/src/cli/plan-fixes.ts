import type { Fix, FixKind } from '../core/checks/fix.ts';
import type { ResolvedFinding } from '../core/checks/resolve-findings.ts';
import { planEdits } from '../core/edits/plan-edits.ts';
import { isRefusal } from '../core/edits/text-edit.ts';
import type { Tape } from '../core/syntax/tape.ts';
import { LineIndex, type Range } from '../core/text/line-index.ts';
import { readTapes } from './open-base.ts';

/** A remedy as edits of one file of a base. */
interface PlannedFix {
  readonly title: string;
  readonly kind: FixKind;
  /** Path relative to the base, with `/`. */
  readonly file: string;
  readonly edits: readonly { readonly range: Range; readonly newText: string }[];
}

/** The remedies of findings that can be carried out; findings that have none are absent. */
export type PlannedFixes = ReadonlyMap<ResolvedFinding, readonly PlannedFix[]>;

/** Remedies planned in one file: each takes as long as reading it, and who has hundreds needs something else than remedies. */
const mostInFile = 100;

/** Plans the remedies of findings in the files of a base, which are read again; in one file no more than a hundred. */
export async function planFixes(root: string, findings: readonly ResolvedFinding[]): Promise<PlannedFixes> {
  const fixes = findings.flatMap((finding) => finding.fixes);
  const tapes = await readTapes(root, new Map(fixes.map(({ file, contentId }) => [file, contentId])));
  const counts = new Map<string, number>();
  const isOneTooMany = ({ file }: Fix): boolean => {
    const count = (counts.get(file) ?? 0) + 1;
    counts.set(file, count);
    return count > mostInFile;
  };
  const planned = findings.map((finding) => {
    const ofFinding = finding.fixes.flatMap((fix) => (isOneTooMany(fix) ? [] : planFix(fix, tapes)));
    return [finding, ofFinding] as const;
  });
  return new Map(planned.filter(([, ofFinding]) => ofFinding.length > 0));
}

function planFix({ title, kind, file, contentId, intents }: Fix, tapes: ReadonlyMap<string, Tape>): PlannedFix[] {
  const tape = tapes.get(file);
  const planned = tape && planEdits({ tape, contentId }, intents);
  if (!planned || isRefusal(planned)) return [];
  const lines = new LineIndex(tape.text);
  const edits = planned.edits.map(({ start, end, text }) => ({ range: lines.rangeOf(start, end), newText: text }));
  return [{ title, kind, file, edits }];
}
