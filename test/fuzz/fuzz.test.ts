import { expect, it } from 'vitest';
import { runTarget } from './run-target.ts';
import { targets } from './targets.ts';

const seed = 20_260_314;

it.each(targets)('$name: $holds', async (target) => {
  const goesOn = (executions: number): boolean => executions < target.runsInSuite;
  const { executions, failures } = await runTarget(target, { seed, goesOn, onInput: () => {}, coverage: undefined });
  expect(failures).toEqual([]);
  expect(executions).toBe(target.runsInSuite);
});
