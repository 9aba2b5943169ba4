import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { aimCells } from '../bench/target-table.ts';
import { projectRoot } from '../harness/source-files.ts';

/** The table that `npm run bench -- --targets` printed last: the rows below its head. */
const table = /^\| What +\| At most .*\n\|[-:| ]+\|\n((?:\|.*\n)+)/m;

it('README.md shows what was measured of every target, and of nothing else', () => {
  const [, rows = ''] = table.exec(readFileSync(join(projectRoot, 'README.md'), 'utf8')) ?? [];
  const cells = rows
    .trimEnd()
    .split('\n')
    .map((row) => row.split('|').map((cell) => cell.trim()));
  expect(cells.map(([, what, aim]) => [what, aim])).toEqual(aimCells);
  for (const [, what, , measured, result] of cells) {
    expect(`${measured} ${result}`, what).toMatch(/^(?:[\d.]+(?: \S+)? (?:met|missed.*)|– not measured: .+)$/);
  }
});
