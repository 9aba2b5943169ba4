import type { Check, CheckGroup, Example } from '../../server/src/core/checks/define-check.ts';
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
    return members.length === 0 ? [] : [`## ${title}`, ...members.map(toSection)];
  });
  return `${[`<!-- ${generatedNote} -->`, '# Checks', intro, ...sections].join('\n\n')}\n`;
}

const intro = `Every finding names its check. A base may change the severity of a check under \`severity\` in its
\`swaplore.yaml\`, except for those of unreadable files and of the tool itself. In the examples a comment under a
line marks the place of a finding with \`^\`, or with \`<\` where it starts at the line's first character.`;

function toSection({ check, severity, alsoSeverity, why, examples }: Check): string {
  const also = alsoSeverity === undefined ? '' : `, in some cases ${alsoSeverity}`;
  return [
    `### \`${check}\``,
    `Severity: ${severity}${also}.`,
    why,
    ...examples().flatMap(({ title, files }) => [`*${title}*`, ...Object.entries(files).map(toFile)]),
  ].join('\n\n');
}

function toFile([path, file]: readonly [string, Example['files'][string]]): string {
  if (typeof file !== 'string') return `\`${path}\` cannot be read: ${file.unreadable}`;
  return `\`${path}\`\n\n\`\`\`${/\.ya?ml$/.test(path) ? 'yaml' : ''}\n${shorten(file)}\n\`\`\``;
}

/** Lines longer than this are cut: examples of limits are as long as the limit. */
const longestLine = 200;

/** Shown escaped: a page with a real NUL in it is no text to git. */
function shorten(file: string): string {
  return file
    .replaceAll('\u0000', '\\u0000')
    .trimEnd()
    .split('\n')
    .map((line) => (line.length > longestLine ? `${line.slice(0, 60)} … (${line.length} characters)` : line))
    .join('\n');
}
