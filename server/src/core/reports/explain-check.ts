import type { Check, Example } from '../checks/define-check.ts';

/** What a check looks for, why, and its examples, as Markdown without a heading. */
export function explainCheck({ severity, alsoSeverity, why, examples }: Check): string {
  const also = alsoSeverity === undefined ? '' : `, in some cases ${alsoSeverity}`;
  return [
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
