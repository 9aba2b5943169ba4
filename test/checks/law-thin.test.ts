import { expect, it } from 'vitest';
import { lawThin } from '../../server/src/core/checks/law-thin.ts';
import { lintFiles } from '../harness/lint-files.ts';
import { manyPairs, type PairOutcome } from '../harness/many-pairs.ts';

const law = 'kind: rule\nid: tern-law\nclaim: enough\nwhen: {rom_travels: true}\n';

async function thin(pairs: readonly string[], rule = law, more: readonly PairOutcome[] = []): Promise<string[]> {
  const outcomes = pairs.map((pair): PairOutcome => ({ patient: pair[0] ?? '', donor: pair[1] ?? '', works: true }));
  const findings = await lintFiles(manyPairs([...outcomes, ...more], { 'rules/tern.yaml': rule }), {
    checks: [lawThin],
  });
  return findings.map(({ message }) => message);
}

it.each([
  ['1 independent pair', 5, ['ab']],
  ['2 independent pairs', 22, ['ab', 'cd']],
  ['3 independent pairs', 37, ['ab', 'cd', 'ef']],
  ['4 independent pairs', 47, ['ab', 'cd', 'ef', 'gh']],
  ['1 independent pair (3 pairs of 3 drives)', 5, ['ab', 'bc', 'ca']],
  ['1 independent pair (2 pairs of 3 drives)', 5, ['ab', 'ba', 'bc']],
])('says that %s leave %i %% (0.05 to the power of one over the pairs)', async (basis, percent, pairs) => {
  expect(await thin(pairs)).toEqual([
    `Rule \`tern-law\` rests on ${basis}, which shows no more than that it holds for at least ${percent} % of swaps (exact lower bound at 95 %).`,
  ]);
});

it('is content with five', async () => {
  expect(await thin(['ab', 'cd', 'ef', 'gh', 'ij'])).toEqual([]);
});

it('says nothing of a law that nothing supports, which is untested, or that is broken', async () => {
  expect(await thin([], law, [{ patient: 'a', donor: 'b', works: false, more: '' }])).toEqual([]);
  expect(await thin(['ab'], law, [{ patient: 'c', donor: 'd', works: false }])).toEqual([]);
});

it('does not count what is excepted', async () => {
  expect(await thin(['ab'], `${law}exceptions: [{outcome: o-1, because: never seen again}]\n`)).toEqual([]);
});

it('is about laws of what is enough alone', async () => {
  expect(await thin(['ab'], law.replace('enough', 'needs'))).toEqual([]);
  expect(await thin(['ab'], `${law}at_least: 0.5\n`)).toEqual([]);
});
