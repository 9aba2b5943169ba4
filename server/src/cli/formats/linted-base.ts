import type { Check } from '../../core/checks/define-check.ts';
import type { ResolvedFinding } from '../../core/checks/resolve-findings.ts';
import type { ResolvedPlace } from '../../core/checks/resolve-place.ts';
import { shownFile } from '../open-base.ts';
import type { PlannedFixes } from '../plan-fixes.ts';
import type { Terminal } from '../terminal.ts';

/** A base after its checks. `root` is relative to the working folder. */
export interface LintedBase {
  readonly root: string;
  readonly name: string | undefined;
  readonly files: number;
  readonly records: number;
  /** False where the config could not be used, so that nothing else was checked. */
  readonly isUsable: boolean;
  /** All findings: what is counted. */
  readonly findings: readonly ResolvedFinding[];
  /** The findings to print. */
  readonly shown: readonly ResolvedFinding[];
  /** What would mend the findings to print, where the form of output has a place for that. */
  readonly fixes: PlannedFixes;
}

/** What a form of output may know besides the bases. */
export interface FormatContext {
  readonly terminal: Terminal;
  /** Version of swaplore. */
  readonly version: string;
  /** The checks that were run. */
  readonly checks: readonly Check[];
}

/** Turns checked bases into one text that ends in a line end. */
export type Formatter = (bases: readonly LintedBase[], context: FormatContext) => string;

/** Path of a file of a base, relative to the working folder, with `/`. */
export function pathOf(base: Pick<LintedBase, 'root'>, file: string): string {
  return shownFile(base.root, file);
}

/** A place as `path:line:column`, counted from 1. */
export function placeOf(base: Pick<LintedBase, 'root'>, { file, range }: ResolvedPlace): string {
  return `${pathOf(base, file)}:${range.start.line + 1}:${range.start.character + 1}`;
}

/** What was seen and, where that is sure, what to do: for forms that have one text only. */
export function messageWithHelp({ message, help }: ResolvedFinding): string {
  return help === undefined ? message : `${message} ${help}`;
}
