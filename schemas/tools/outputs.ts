import type { Check } from '../../server/src/core/checks/define-check.ts';
import type { KeyNodes } from '../../server/src/core/exporting/key-columns.ts';
import type { Table } from '../../server/src/core/exporting/table.ts';
import { toCheckRegistry } from './check-registry.ts';
import { toChecksPage } from './checks-page.ts';
import { findComparableKeys } from './comparable-keys.ts';
import { toExtensionManifest } from './extension-manifest.ts';
import type { DefiningModule } from './find-modules.ts';
import type { FoundReports } from './find-reports.ts';
import { toKeyRow } from './key-rows.ts';
import { toKeyTable } from './key-table.ts';
import { readNodes } from './read-nodes.ts';
import { toRecordTypes } from './record-types.ts';
import { toReferencePage } from './reference-page.ts';
import { toReportRegistry, toReportTitles } from './report-registry.ts';
import type { SchemaSet } from './schema.ts';
import { toTablesPage } from './tables-page.ts';
import { termsId, toTermsSchema } from './terms-schema.ts';
import { toValidatorsModule, toValidatorsTypes } from './validators.ts';

/** A generated file: its path from the project's root, with `/`, and its whole text. */
export interface Output {
  readonly path: string;
  readonly text: string;
}

/**
 * What everything is generated from: the hand-written schemas, the checks, the reports, how tables are made of keys, and
 * `package.json`, of which a part is generated.
 */
interface Sources {
  readonly schemas: SchemaSet;
  readonly checkModules: readonly DefiningModule[];
  readonly checks: readonly Check[];
  readonly reports: FoundReports;
  readonly toTables: (nodes: KeyNodes) => readonly Table[];
  readonly manifest: string;
}

/** Of this file, which is written by hand, a part is generated. */
export const manifestPath = 'package.json';

/** Every generated file. The same sources give the same texts. */
export function toOutputs({ schemas, checkModules, checks, reports, toTables, manifest }: Sources): readonly Output[] {
  const terms = toTermsSchema(schemas, checks);
  const all: SchemaSet = new Map([...schemas, [termsId, terms]]);
  const nodes = readNodes(all);
  // The key table as it will be, not as it was generated the last time.
  const keyNodes = Object.fromEntries(Array.from(nodes, ([id, { keys }]) => [id, keys.map(toKeyRow)])) as KeyNodes;
  return [
    { path: 'schemas/gen/terms.schema.json', text: `${JSON.stringify(terms, null, 2)}\n` },
    { path: 'schemas/gen/validators.js', text: toValidatorsModule(all) },
    { path: 'schemas/gen/validators.d.ts', text: toValidatorsTypes(all) },
    { path: 'schemas/gen/records.ts', text: toRecordTypes(nodes) },
    { path: 'schemas/gen/key-table.ts', text: toKeyTable(nodes, findComparableKeys(all)) },
    { path: 'schemas/gen/reference.md', text: toReferencePage(nodes) },
    { path: 'schemas/gen/checks.md', text: toChecksPage(checks) },
    { path: 'schemas/gen/tables.md', text: toTablesPage(toTables(keyNodes)) },
    { path: 'server/src/core/checks/registry.ts', text: toCheckRegistry(checkModules) },
    { path: 'server/src/core/reports/registry.ts', text: toReportRegistry(reports) },
    { path: 'server/src/core/reports/report-titles.ts', text: toReportTitles(reports) },
    { path: manifestPath, text: toExtensionManifest(manifest) },
  ];
}
