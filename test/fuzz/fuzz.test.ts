import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { projectRoot } from '../harness/source-files.ts';
import { runTarget } from './run-target.ts';
import { targets } from './targets.ts';

const seed = 20_260_314;

it.each(targets)('$name: $holds', async (target) => {
  const goesOn = (executions: number): boolean => executions < target.runsInSuite;
  const { executions, failures } = await runTarget(target, { seed, goesOn, onInput: () => {}, coverage: undefined });
  expect(failures).toEqual([]);
  expect(executions).toBe(target.runsInSuite);
});

it('the guide for contributors lists every target with its budgets', () => {
  const guide = readFileSync(join(projectRoot, 'DEVELOPERS.md'), 'utf8');
  const rows = [...guide.matchAll(/^\| `([a-z-]+)` +\| (.+?) +\| +([\d,]+) +\| +([\d,]+) +\| +([\d,]+) +\|$/gm)];
  const count = (number: number): string => number.toLocaleString('en-GB');
  expect(rows.map((row) => row.slice(1))).toEqual(
    targets.map(({ name, feeds, runsInSuite, runs, limitMs }) => [
      name,
      feeds,
      ...[runsInSuite, runs, limitMs].map(count),
    ]),
  );
});
