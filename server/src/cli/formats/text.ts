import type { ResolvedFinding } from '../../core/checks/resolve-findings.ts';
import { countsInWords } from '../../core/reports/counts-in-words.ts';
import { wrapText } from '../../core/reports/render-text.ts';
import { plural } from '../../core/text/plural.ts';
import { visible } from '../../core/text/visible.ts';
import { styled, type Terminal } from '../terminal.ts';
import { type Formatter, type LintedBase, placeOf } from './linted-base.ts';

/** Findings for a person at a terminal, base by base, each base with its counts. */
export const toText: Formatter = (bases, { terminal }) => bases.map((base) => baseText(base, terminal)).join('\n');

function baseText(base: LintedBase, terminal: Terminal): string {
  const findings = base.shown.map((finding) => `${findingText(base, finding, terminal)}\n\n`).join('');
  const what = base.findings.length === 0 ? 'nothing found' : countsInWords(base.findings);
  const scale = base.isUsable
    ? `${plural(base.files, 'file')}, ${plural(base.records, 'record')}`
    : 'not checked: its config cannot be used';
  return `${findings}${styled(terminal, 'bold', `${visible(base.name ?? base.root)}: ${what}`)} (${scale})\n`;
}

const colours = { error: 'red', warning: 'yellow', info: 'blue' } as const;

/** One finding for a person at a terminal: place, message, help, and what else is concerned. */
export function findingText(base: Pick<LintedBase, 'root'>, finding: ResolvedFinding, terminal: Terminal): string {
  const { columns } = terminal;
  const head = `${visible(placeOf(base, finding))}  ${styled(terminal, colours[finding.severity], finding.severity)}  ${finding.check}`;
  const lines = wrapText(visible(finding.message), columns, '  ');
  if (finding.help !== undefined) lines.push(...wrapText(visible(finding.help), columns, '    '));
  for (const related of finding.related) {
    lines.push(
      ...wrapText(`see ${visible(placeOf(base, related))} ${visible(related.message)}`, columns, '    ').map((line) =>
        styled(terminal, 'dim', line),
      ),
    );
  }
  return [head, ...lines].join('\n');
}
