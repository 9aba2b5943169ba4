import type { Check } from '../../server/src/core/checks/define-check.ts';
import type { Finding } from '../../server/src/core/checks/finding.ts';
import { type ResolvedFinding, resolveFindings } from '../../server/src/core/checks/resolve-findings.ts';
import { findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { readWithYaml } from '../../server/src/core/syntax/read-with-yaml.ts';
import { type Day, parseDate } from '../../server/src/core/terms/calendar.ts';
import { decodeText } from '../../server/src/core/text/decode.ts';
import { loadBase, loadConfig } from '../../server/src/host/load-base.ts';
import { type MemoryFiles, MemoryHost } from '../../server/src/host/memory.ts';
import { drained } from './drained.ts';

/** The snapshot of files in memory; a plain config is added where none is given. */
export async function loadFiles(files: MemoryFiles): Promise<Snapshot> {
  const host = new MemoryHost({ 'swaplore.yaml': 'swaplore: 1\n', ...files });
  return loadBase(host, await loadConfig(host));
}

/** How files are linted where a test asks for something else than all checks on the usual day. */
export interface LintOptions {
  readonly today?: Day;
  readonly checks?: readonly Check[];
}

/** Today in tests, in place of a clock. */
const usualDay: Day = parseDate('2026-11-25') ?? 0;

/** All findings of files in memory, sorted and with places. */
export async function lintFiles(files: MemoryFiles, options: LintOptions = {}): Promise<ResolvedFinding[]> {
  return lintSnapshot(await loadFiles(files), { 'swaplore.yaml': 'swaplore: 1\n', ...files }, options);
}

/** All findings of a snapshot whose texts are these. */
export function lintSnapshot(
  snapshot: Snapshot,
  files: MemoryFiles,
  { today = usualDay, checks }: LintOptions = {},
): ResolvedFinding[] {
  return resolveIn(files, findingsOf(drained(runChecks(snapshot, { today, checks }))));
}

/** Findings with their places in these files. */
function resolveIn(files: MemoryFiles, findings: readonly Finding[]): ResolvedFinding[] {
  const tapes = new Map(
    Object.entries(files).flatMap(([path, file]) => {
      if (typeof file === 'object' && 'unreadable' in file) return [];
      const decoded = typeof file === 'string' ? { text: file } : decodeText(file);
      return 'text' in decoded ? [[path, readWithYaml(decoded.text).tape] as const] : [];
    }),
  );
  return resolveFindings(findings, tapes);
}
