import type { ResolvedFinding } from '../../core/checks/resolve-findings.ts';
import { countsInWords } from '../../core/reports/counts-in-words.ts';
import { visible } from '../../core/text/visible.ts';
import { type Formatter, type LintedBase, pathOf } from './linted-base.ts';

/**
 * Findings as workflow commands, which GitHub Actions turns into annotations of the lines concerned, and a last line with the counts.
 * Source: actions/toolkit, packages/core/src/command.ts (escaping), and GitHub's "Workflow commands" page (properties).
 */
export const toGithub: Formatter = (bases) => {
  const commands = bases.flatMap((base) => base.shown.map((finding) => `${toCommand(base, finding)}\n`));
  // No text from files in this line: one that began with `::` would be taken for a command.
  return `${commands.join('')}${countsInWords(bases.flatMap((base) => base.findings))}\n`;
};

/** Text as it stands after the second `::` of a command. */
export function escapeData(text: string): string {
  return text.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
}

/** Text as it stands as the value of a property of a command. */
export function escapeProperty(text: string): string {
  return escapeData(text).replaceAll(':', '%3A').replaceAll(',', '%2C');
}

const commandNames = { error: 'error', warning: 'warning', info: 'notice' } as const;

function toCommand(base: LintedBase, finding: ResolvedFinding): string {
  const { start, end } = finding.range;
  const isOneLine = start.line === end.line;
  const properties = {
    file: pathOf(base, finding.file),
    line: start.line + 1,
    endLine: end.line + 1,
    // Columns are refused where lines differ.
    ...(isOneLine ? { col: start.character + 1, endColumn: end.character + 1 } : {}),
    title: finding.check,
  };
  const list = Object.entries(properties).map(([name, value]) => `${name}=${escapeProperty(String(value))}`);
  const lines = finding.help === undefined ? [finding.message] : [finding.message, finding.help];
  return `::${commandNames[finding.severity]} ${list.join(',')}::${escapeData(lines.map(visible).join('\n'))}`;
}
