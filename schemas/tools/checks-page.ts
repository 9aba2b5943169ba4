import type { Check, CheckGroup } from '../../server/src/core/checks/define-check.ts';
import { explainCheck } from '../../server/src/core/reports/explain-check.ts';
import { generatedNote } from './generated-note.ts';

const groups: readonly (readonly [CheckGroup, string])[] = [
  ['file', 'Files that cannot be read'],
  ['structure', 'Structure'],
  ['record', 'One record'],
  ['across', 'Across records'],
  ['internal', 'Faults of the tool itself'],
];

/** The page that explains every check, by group, with the examples its tests run. */
export function toChecksPage(checks: readonly Check[]): string {
  const sections = groups.flatMap(([group, title]) => {
    const members = checks.filter((check) => check.group === group);
    return members.length === 0
      ? []
      : [`## ${title}`, ...members.map((check) => `### \`${check.check}\`\n\n${explainCheck(check)}`)];
  });
  return `${[`<!-- ${generatedNote} -->`, '# Checks', intro, ...sections].join('\n\n')}\n`;
}

const intro = `Every finding names its check. A base may change the severity of a check under \`severity\` in its
\`swaplore.yaml\`, except for those of unreadable files and of the tool itself. In the examples a comment under a
line marks the place of a finding with \`^\`, or with \`<\` where it starts at the line's first character.`;
