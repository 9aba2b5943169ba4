import type { FoundReport, FoundReports } from './find-reports.ts';
import { generatedNote } from './generated-note.ts';

/** Source of the module that holds every report: those about a whole base in the order pages name them, and those about one record. */
export function toReportRegistry({ ofBase, ofRecord }: FoundReports): string {
  const imports = [...ofBase, ...ofRecord].map(({ file, name }) => `import { ${name} } from './${file}';\n`).join('');
  return `// ${generatedNote}
${imports}
/** Every report about a whole base, in the order pages name them. */
export const reports = {
${entriesOf(ofBase, ({ name }) => name)}} as const;

/** Every report about one record. */
export const recordReports = {
${entriesOf(ofRecord, ({ name }) => name)}} as const;
`;
}

/** Source of the module that says what reports are called, for whatever names reports and makes none. */
export function toReportTitles({ ofBase, ofRecord }: FoundReports): string {
  const rows = entriesOf(ofBase, ({ report: { name, title, shows, isIndex } }) =>
    JSON.stringify({ title, shows, file: `${isIndex === true ? 'index' : name}.html` }),
  );
  return `// ${generatedNote}

/** What the reports about a whole base are called by name, in the order pages name them: title, what each shows, and the file of its page. */
export const baseReports = {
${rows}} as const;

/** What stands before the id in the title of a report about one record, by the name that stands before the id in its own. */
export const recordTitles = {
${entriesOf(ofRecord, ({ report }) => JSON.stringify(report.titleBefore))}} as const;
`;
}

function entriesOf<Defined extends { readonly name: string }>(
  found: readonly FoundReport<Defined>[],
  toValue: (found: FoundReport<Defined>) => string,
): string {
  return found.map((one) => `  '${one.report.name}': ${toValue(one)},\n`).join('');
}
