import type { Finding } from '../checks/finding.ts';
import { checks } from '../checks/registry.ts';
import { grouped } from '../terms/grouped.ts';
import { severities } from '../terms/severities.ts';
import { inThousands } from '../text/in-thousands.ts';
import { countsInWords } from './counts-in-words.ts';
import { defineReport } from './define-report.ts';
import type { Block } from './document.ts';

/** Most findings a report spells out, the gravest ones; a page of more would be slow to open and nobody reads it to its end. */
const mostFindings = 2000;

/** Every finding, file by file, in the order given, which keeps those of a file together; then what the checks are for. */
export const findingsReport = defineReport({
  name: 'findings',
  title: 'Findings',
  shows: 'all findings',
  document: ({ findings, baseName }) => {
    const shown = gravest(findings);
    const byFile = grouped(shown, ({ place }) => place.file);
    const raised = new Set(shown.map(({ check }) => check));
    return [
      { kind: 'heading', level: 1, text: `Findings: ${baseName}` },
      {
        kind: 'paragraph',
        text: findings.length === 0 ? 'No check has found anything.' : `${countsInWords(findings)}.`,
      },
      ...leftOut(findings.length - shown.length),
      ...[...byFile].flatMap(([file, group]): Block[] => [
        { kind: 'heading', level: 2, text: file },
        { kind: 'findings', findings: group },
      ]),
      ...(raised.size === 0 ? [] : explanations(raised)),
    ];
  },
});

/** As many as are shown, in the order they had. */
function gravest(findings: readonly Finding[]): readonly Finding[] {
  if (findings.length <= mostFindings) return findings;
  const kept = new Set(
    severities.flatMap((severity) => findings.filter((one) => one.severity === severity)).slice(0, mostFindings),
  );
  return findings.filter((finding) => kept.has(finding));
}

function leftOut(count: number): Block[] {
  if (count === 0) return [];
  const text = `${inThousands(count)} more are not shown, the least grave ones; \`swaplore lint\` lists them.`;
  return [{ kind: 'paragraph', text }];
}

function explanations(raised: ReadonlySet<string>): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Why these are looked for' },
    { kind: 'checks', checks: checks.filter(({ check }) => raised.has(check)) },
  ];
}
