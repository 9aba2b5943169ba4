import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cachedBase } from '../bench/base/base-cache.ts';
import { compareExports, exportFormats, sqlite3 } from '../harness/compare-exports.ts';
import { lacksDuckdb } from '../harness/duckdb.ts';
import { folderOf, runCommand } from '../harness/run-cli.ts';
import { ternBench } from '../harness/tern-bench.ts';
import { lacks } from '../lsp/harness/lacks.ts';

/** Texts that mean something to one format or another; what no reader here can hold is left to a property. */
const awkward = [
  '=1+1',
  "'=1+1",
  '@x',
  '-',
  '+49',
  '\\t-1',
  'a, b',
  'say \\"so\\"',
  'one\\r\\ntwo\\nthree',
  "it's",
  'NULL',
  '\\\\N',
  'é 🖴 ＝',
  '[1, 2]',
  '2026-03-14',
  '007',
  '1e3',
  'true',
];

const awkwardBase = {
  ...ternBench,
  'drives/awkward.yaml': awkward
    .map(
      (text, at) =>
        `kind: drive\nid: a-${at}\nfamily: missing-${at % 2}\nnotes: "${text}"\nlba_count: ${Number.MAX_SAFE_INTEGER - at}\ncapacity_gb: ${at / 7 + 0.1}\nx-own: {a: ["${text}", null, 1.5]}\n`,
    )
    .join('---\n'),
};

/** Exports a base in every format, and gives the rows of each table as the command counts them. */
function exportAll(base: string, to: string): Readonly<Record<string, number>> {
  const counts = exportFormats.map((format) => {
    const run = runCommand(to, ['export', '--folder', base, '--to', format, '--out', format, '--json']);
    expect(run.stderr).toBe('');
    const { tables } = JSON.parse(run.stdout) as { tables: readonly { name: string; rows: number }[] };
    return Object.fromEntries(tables.map(({ name, rows }) => [name, rows]));
  });
  for (const other of counts) expect(other).toEqual(counts[0]);
  return counts[0] ?? {};
}

describe.skipIf(lacksDuckdb || lacks(sqlite3))('DuckDB and sqlite3', () => {
  it.each([
    ['700 files', () => cachedBase({ size: 'S', seed: '1', faults: 40 }).folder],
    ['awkward texts', () => folderOf(awkwardBase)],
  ])('read the same rows out of every format: %s', async (_, baseOf) => {
    const folder = folderOf({});
    const counts = exportAll(baseOf(), folder);
    const compared = await compareExports(folder);
    expect(compared.filter(({ differing }) => differing.length > 0)).toEqual([]);
    expect(Object.fromEntries(compared.map(({ name, rows }) => [name, rows]))).toEqual(counts);
  });

  it('find the keys in the database, and foreign keys where every reference leads to a record', () => {
    const folder = folderOf(awkwardBase);
    runCommand(folder, ['export', '--to', 'sqlite', '--out', 'out.sqlite']);
    const ask = (sql: string) =>
      execFileSync(sqlite3, ['-readonly', join(folder, 'out.sqlite'), sql], { encoding: 'utf8' }).trim();
    expect(ask('PRAGMA integrity_check; PRAGMA foreign_key_check;')).toBe('ok');
    expect(ask(`SELECT name FROM pragma_table_info('verdicts') WHERE pk > 0`)).toBe('outcome\nstage');
    expect(ask(`SELECT "from" || ' ' || "table" FROM pragma_foreign_key_list('rule_results') ORDER BY 1`)).toBe(
      'outcome outcomes\nrule rules',
    );
    expect(ask(`SELECT count(*) FROM pragma_foreign_key_list('drives') WHERE "from" = 'family'`)).toBe('0');
  });
});
