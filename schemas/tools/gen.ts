import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { findCheckModules, loadChecks } from './find-checks.ts';
import { findReports } from './find-reports.ts';
import { manifestPath, type Output, toOutputs } from './outputs.ts';
import { readSchemas } from './read-schemas.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const checksFolder = join(root, 'server/src/core/checks');
const reportsFolder = join(root, 'server/src/core/reports');

/** Text of a generated file as it stands on disk; undefined where there is none. */
function readOutput(path: string): string | undefined {
  const file = join(root, path);
  return existsSync(file) ? readFileSync(file, 'utf8') : undefined;
}

function readManifest(): string {
  return readFileSync(join(root, manifestPath), 'utf8');
}

function writeOutput({ path, text }: Output): void {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), text);
}

/** Every generated file as it should be. Checks, reports and tables are code, so the files they import must exist already. */
async function generate(): Promise<readonly Output[]> {
  const checkModules = findCheckModules(checksFolder);
  const checks = await loadChecks(checksFolder, checkModules);
  const { exportTables: toTables } = await import('../../server/src/core/exporting/export-tables.ts');
  return toOutputs({
    schemas: readSchemas(join(root, 'schemas')),
    checkModules,
    checks,
    reports: await findReports(reportsFolder),
    toTables,
    manifest: readManifest(),
  });
}

/** Writes generated files that do not exist yet, as if there were no checks, reports and tables, so that these can be imported. Gives their paths. */
function writeMissing(): readonly string[] {
  const provisional = toOutputs({
    schemas: readSchemas(join(root, 'schemas')),
    checkModules: findCheckModules(checksFolder),
    checks: [],
    reports: { ofBase: [], ofRecord: [] },
    toTables: () => [],
    manifest: readManifest(),
  });
  const missing = provisional.filter(({ path }) => readOutput(path) === undefined);
  missing.forEach(writeOutput);
  return missing.map(({ path }) => path);
}

/** The generated files that are not on disk as they should be. */
async function findStale(): Promise<readonly Output[]> {
  return (await generate()).filter(({ path, text }) => readOutput(path) !== text);
}

async function main(options: readonly string[]): Promise<number> {
  if (options.some((option) => option !== '--check')) {
    console.error('usage: gen.ts [--check]');
    return 2;
  }
  if (options.includes('--check')) {
    const stale = await findStale();
    for (const { path } of stale) console.log(`${path} is stale; \`npm run gen\` renews it.`);
    return stale.length > 0 ? 1 : 0;
  }
  const missing = writeMissing();
  const stale = await findStale();
  stale.forEach(writeOutput);
  for (const path of new Set([...missing, ...stale.map((output) => output.path)])) console.log(`${path} written`);
  return 0;
}

process.exitCode = await main(process.argv.slice(2));
