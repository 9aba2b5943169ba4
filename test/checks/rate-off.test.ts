import { expect, it } from 'vitest';
import { rateOff } from '../../server/src/core/checks/rate-off.ts';
import { lintFiles } from '../harness/lint-files.ts';
import { manyPairs, type PairOutcome } from '../harness/many-pairs.ts';

function rule(claim: string, atLeast: number, more = ''): string {
  return `kind: rule\nid: tern-rate\nclaim: ${claim}\nwhen: {rom_travels: ${claim !== 'needs'}}\nat_least: ${atLeast}\n${more}`;
}

async function rates(outcomes: readonly PairOutcome[], text: string): Promise<string[]> {
  const findings = await lintFiles(manyPairs(outcomes, { 'rules/tern.yaml': text }), { checks: [rateOff] });
  return findings.map(({ message }) => message);
}

function apart(count: number, works: boolean): PairOutcome[] {
  return Array.from({ length: count }, (_, n) => ({ patient: `p-${works}-${n}`, donor: `d-${works}-${n}`, works }));
}

it('counts successes and failures by pair', async () => {
  // scipy 1.17.1: beta.ppf(0.99, 2, 5) = 0.7057.
  expect(await rates([...apart(1, true), ...apart(5, false)], rule('enough', 0.71))).toEqual([
    'Rule `tern-rate` says at least `0.71`, but 1 of 6 pairs bear it out, which allows 0.706 at most (exact upper bound at 99 %).',
  ]);
  expect(await rates([...apart(1, true), ...apart(5, false)], rule('enough', 0.7))).toEqual([]);
});

it('gives a pair one vote, however often it was tried', async () => {
  const again = Array.from({ length: 20 }, (): PairOutcome => ({ patient: 'a', donor: 'b', works: false }));
  // One pair allows 0.99.
  expect(await rates(again, rule('enough', 0.98))).toEqual([]);
  expect(await rates(again, rule('enough', 0.995))).toHaveLength(1);
});

it('counts pairs that share a drive as one trial', async () => {
  const star = ['a', 'b', 'c', 'd', 'e', 'f'].map((patient): PairOutcome => ({ patient, donor: 'hub', works: false }));
  expect(await rates(star, rule('enough', 0.98))).toEqual([]);
  expect(await rates(star, rule('enough', 0.995))).toEqual([
    'Rule `tern-rate` says at least `0.995`, but 0 of 6 pairs bear it out (7 drives, 1 independent), which allows 0.99 at most (exact upper bound at 99 %).',
  ]);
});

it('leaves out successes without controls, as it leaves out such failures', async () => {
  const open = apart(30, true).map((one) => ({ ...one, more: '' }));
  expect(await rates([...open, ...apart(4, false)], rule('enough', 0.9))).toHaveLength(1);
});

it('takes what works against a `prevents`, and what works without against a `needs`', async () => {
  const working = apart(4, true);
  expect(await rates(working, rule('prevents', 0.9))).toHaveLength(1);
  // Nothing travels in a family that keeps its adaptives elsewhere and has its ROM left.
  const inChip = {
    'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: rom_chip}\n',
  };
  const needs = rule('needs', 0.9).replace('rom_travels: false', 'rom_travels: true');
  const findings = await lintFiles(manyPairs(working, { ...inChip, 'rules/tern.yaml': needs }), { checks: [rateOff] });
  expect(findings).toHaveLength(1);
  // A working swap that meets a need is no trial of it.
  expect(await rates(working, needs)).toEqual([]);
});

it('asks for more where more rates were tried', async () => {
  const more = Array.from({ length: 9 }, (_, n) => rule('enough', 0.1).replace('tern-rate', `other-${n}`)).join(
    '---\n',
  );
  // 0.01^(1/4) = 0.316, 0.001^(1/4) = 0.178.
  expect(await rates(apart(4, false), rule('enough', 0.7))).toHaveLength(1);
  expect(await rates(apart(4, false), `${rule('enough', 0.7)}---\n${more}`)).toEqual([]);
});

it('leaves out exceptions', async () => {
  const excepted = 'exceptions: [{outcome: o-1, because: dropped}, {outcome: o-2, because: dropped}]\n';
  expect(await rates(apart(4, false), rule('enough', 0.91, excepted))).toHaveLength(1);
  expect(await rates(apart(4, false), rule('enough', 0.89, excepted))).toEqual([]);
});

it('shows a bound just below the rate as below it', async () => {
  // 0.01^(1/4) = 0.316227766.
  const [message] = await rates(apart(4, false), rule('enough', 0.68379));
  expect(message).toContain('says at least `0.68379`, but 0 of 4 pairs bear it out, which allows 0.68377 at most');
});
