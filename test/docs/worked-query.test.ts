import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { lacksDuckdb, openDuckdb } from '../harness/duckdb.ts';
import { projectRoot } from '../harness/source-files.ts';

/** The query of the README, and the table below it. `UPDATE_DOCS=1 npx vitest run test/docs` writes what DuckDB answers now. */
const block = /```sql\n([\s\S]*?)```\n\n((?:\|.*\n)+)/;
const readme = join(projectRoot, 'README.md');
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'swaplore-query-'));
});

afterAll(() => rmSync(folder, { recursive: true }));

function tableOf(names: readonly string[], rows: readonly (readonly unknown[])[]): string {
  const lines = [names, ...rows].map((row) => row.map(String));
  const widths = names.map((_, at) => Math.max(...lines.map((line) => (line[at] ?? '').length)));
  const drawn = lines.map((line) => `| ${line.map((cell, at) => cell.padEnd(widths[at] ?? 0)).join(' | ')} |\n`);
  const [head, ...body] = drawn;
  return [head, `| ${widths.map((width) => '-'.repeat(width)).join(' | ')} |\n`, ...body].join('');
}

describe.skipIf(lacksDuckdb)('the query of the README', () => {
  it('gives what stands below it', async () => {
    const args = [
      'dist/swaplore.cjs',
      'export',
      '--folder',
      'knowledge',
      '--to',
      'parquet',
      '--out',
      join(folder, 'tables'),
    ];
    execFileSync(process.execPath, args, { cwd: projectRoot });
    const text = readFileSync(readme, 'utf8');
    const [found = '', sql = '', printed] = block.exec(text) ?? [];
    const ask = await openDuckdb();
    await ask(`SET file_search_path = '${folder}'`);
    const { names, rows } = await ask(sql);
    const table = tableOf(names, rows);
    if (process.env['UPDATE_DOCS']) {
      writeFileSync(readme, text.replace(found, `\`\`\`sql\n${sql}\`\`\`\n\n${table}`));
      return;
    }
    // Each eligible outcome is counted once among the odds of some family.
    const { rows: odds } = await ask(`SELECT sum(outcomes) FROM 'tables/odds.parquet' WHERE swaps = 'all'`);
    expect(rows.reduce((sum, row) => sum + Number(row[1]), 0)).toBe(Number(odds[0]?.[0]));
    expect(rows.length).toBeGreaterThan(0);
    expect(printed).toBe(table);
  });
});
