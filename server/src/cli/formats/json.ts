import type { ResolvedFinding } from '../../core/checks/resolve-findings.ts';
import { countBySeverity } from '../../core/reports/counts-in-words.ts';
import { toJsonText } from '../terminal.ts';
import { type Formatter, type LintedBase, pathOf } from './linted-base.ts';

/** Findings as data of our own shape, for programs. Lines and characters count from 0. */
export const toJson: Formatter = (bases) => {
  const findings = bases.flatMap((base) => base.shown.map((finding) => findingJson(base, finding)));
  const json = {
    version: 1,
    bases: bases.map(({ root, name, files, records }) => ({ root, name, files, records })),
    findings,
    summary: countBySeverity(bases.flatMap((base) => base.findings)),
  };
  return toJsonText(json);
};

function findingJson(base: LintedBase, finding: ResolvedFinding): object {
  return {
    check: finding.check,
    severity: finding.severity,
    file: pathOf(base, finding.file),
    range: finding.range,
    message: finding.message,
    help: finding.help,
    record: finding.record,
    related: finding.related.map(({ file, range, message }) => ({ file: pathOf(base, file), range, message })),
    fixes: base.fixes.get(finding)?.map(({ title, kind, files }) => ({
      title,
      kind,
      edits: files.flatMap(({ file, edits }) => edits.map((edit) => ({ file: pathOf(base, file), ...edit }))),
    })),
  };
}
