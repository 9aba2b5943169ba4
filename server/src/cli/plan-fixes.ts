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

/** Plans the remedies of findings in the files of a base, which are read again. */
export async function planFixes(root: string, findings: readonly ResolvedFinding[]): Promise<PlannedFixes> {
  const fixes = findings.flatMap((finding) => finding.fixes);
  const tapes = await readTapes(root, new Map(fixes.map(({ file, contentId }) => [file, contentId])));
  const planned = findings.map((finding) => [finding, finding.fixes.flatMap((fix) => planFix(fix, tapes))] as const);
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
