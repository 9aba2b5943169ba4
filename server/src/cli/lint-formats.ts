import type { ResolvedFinding, ResolvedPlace } from '../core/checks/resolve-findings.ts';
import { wrapText } from '../core/reports/render-text.ts';
import { type Severity, severities } from '../core/terms/severities.ts';
import { visible } from '../core/text/visible.ts';
import { shownFile } from './open-base.ts';
import { styled, type Terminal, toJsonText } from './terminal.ts';

/** A base after its checks. `root` is relative to the working folder. */
export interface LintedBase {
  readonly root: string;
  readonly name: string | undefined;
  readonly files: number;
  readonly records: number;
  /** False where the config could not be used, so that nothing else was checked. */
  readonly isUsable: boolean;
  readonly findings: readonly ResolvedFinding[];
}

type Formatter = (bases: readonly LintedBase[], terminal: Terminal) => string;

/** The forms lint output may take. */
export const formats = { text: toText, json: toJson } as const satisfies Record<string, Formatter>;

/** Whether this names a form of output. */
export function isFormat(name: unknown): name is keyof typeof formats {
  return typeof name === 'string' && Object.hasOwn(formats, name);
}

function countBySeverity(findings: readonly ResolvedFinding[]): Record<Severity, number> {
  const count = (severity: Severity): number => findings.filter((finding) => finding.severity === severity).length;
  return { error: count('error'), warning: count('warning'), info: count('info') };
}

function toText(bases: readonly LintedBase[], terminal: Terminal): string {
  return bases.map((base) => baseText(base, terminal)).join('\n');
}

function baseText(base: LintedBase, terminal: Terminal): string {
  const findings = base.findings.map((finding) => `${findingText(base, finding, terminal)}\n\n`).join('');
  const counts = countBySeverity(base.findings);
  const parts = severities.map((severity) => plural(counts[severity], severity === 'info' ? 'note' : severity));
  const what = base.findings.length === 0 ? 'nothing found' : parts.join(', ');
  const scale = base.isUsable
    ? `${plural(base.files, 'file')}, ${plural(base.records, 'record')}`
    : 'not checked: its config cannot be used';
  return `${findings}${styled(terminal, 'bold', `${visible(base.name ?? base.root)}: ${what}`)} (${scale})\n`;
}

function plural(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

const colours = { error: 'red', warning: 'yellow', info: 'blue' } as const;

function findingText(base: LintedBase, finding: ResolvedFinding, terminal: Terminal): string {
  const { columns } = terminal;
  const head = `${whereText(base, finding)}  ${styled(terminal, colours[finding.severity], finding.severity)}  ${finding.check}`;
  const lines = wrapText(visible(finding.message), columns, '  ');
  if (finding.help !== undefined) lines.push(...wrapText(visible(finding.help), columns, '    '));
  for (const related of finding.related) {
    lines.push(
      ...wrapText(`see ${whereText(base, related)} ${visible(related.message)}`, columns, '    ').map((line) =>
        styled(terminal, 'dim', line),
      ),
    );
  }
  return [head, ...lines].join('\n');
}

function whereText(base: LintedBase, { file, range }: ResolvedPlace): string {
  return `${visible(shownFile(base.root, file))}:${range.start.line + 1}:${range.start.character + 1}`;
}

function toJson(bases: readonly LintedBase[]): string {
  const findings = bases.flatMap((base) => base.findings.map((finding) => findingJson(base, finding)));
  const json = {
    version: 1,
    bases: bases.map(({ root, name, files, records }) => ({ root, name, files, records })),
    findings,
    summary: countBySeverity(bases.flatMap((base) => base.findings)),
  };
  return toJsonText(json);
}

function findingJson(base: LintedBase, finding: ResolvedFinding): object {
  return {
    check: finding.check,
    severity: finding.severity,
    file: shownFile(base.root, finding.file),
    range: finding.range,
    message: finding.message,
    help: finding.help,
    record: finding.record,
    related: finding.related.map(({ file, range, message }) => ({ file: shownFile(base.root, file), range, message })),
  };
}
