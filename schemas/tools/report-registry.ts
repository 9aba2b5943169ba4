import type { FoundReport } from './find-reports.ts';
import { generatedNote } from './generated-note.ts';

/** Source of the module that holds every report about a whole base, in the order pages name them. */
export function toReportRegistry(found: readonly FoundReport[]): string {
  const imports = found.map(({ file, name }) => `import { ${name} } from './${file}';\n`).join('');
  const entries = found.map(({ name, report }) => `  '${report.name}': ${name},\n`).join('');
  return `// ${generatedNote}
${imports}
/** Every report about a whole base, in the order pages name them. */
export const reports = {
${entries}} as const;
`;
}

/** Source of the module that says what those reports are called, for whatever names reports and makes none. */
export function toBaseReports(found: readonly FoundReport[]): string {
  const entries = found.map(({ report: { name, title, shows, isIndex } }) => {
    const row = { title, shows, file: `${isIndex === true ? 'index' : name}.html` };
    return `  '${name}': ${JSON.stringify(row)},\n`;
  });
  return `// ${generatedNote}

/** What the reports about a whole base are called by name, in the order pages name them: title, what each shows, and the file of its page. */
export const baseReports = {
${entries.join('')}} as const;
`;
}
