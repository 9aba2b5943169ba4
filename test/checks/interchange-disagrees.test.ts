import { describe, expect, it } from 'vitest';
import { interchangeDisagrees } from '../../server/src/core/checks/interchange-disagrees.ts';
import { lintFiles } from '../harness/lint-files.ts';
import { type SwapBase, swapBase } from '../harness/swap-base.ts';

const board = `kind: board
id: w100
maker: wren
part_number: W100
revisions: [{rev: A}, {rev: B, drop_in_for: [A]}, {rev: C, drop_in_for: [B]}]
`;

interface Case extends SwapBase {
  readonly revs?: readonly [string, string];
  readonly rule?: string;
  readonly boards?: string;
}

async function found({ revs = ['A', 'B'], rule, boards = board, ...more }: Case) {
  const base = swapBase({
    family: 'adaptives: {stored_in: platters}',
    outcome: 'rom: left\ncontrols: {swapped_back: both_work}',
    reached: 'spins',
    result: 'fails',
    ...more,
    patient: `board: {id: w100, rev: ${revs[0]}}\n${more.patient ?? ''}`,
    donor: `board: {id: w100, rev: ${revs[1]}}\n${more.donor ?? ''}`,
  });
  const rules = rule === undefined ? {} : { 'rules/tern.yaml': `kind: rule\nid: tern-rule\n${rule}\n` };
  return lintFiles({ ...base, 'boards/w100.yaml': boards, ...rules }, { checks: [interchangeDisagrees] });
}

const differentModels = { patient: 'model: M1', donor: 'model: M2' };

describe('interchange disagrees', () => {
  it('where a claim leads there over another revision', async () => {
    const [finding] = await found({ revs: ['A', 'C'] });
    expect(finding?.message).toContain('`w100/C` of donor `d-0118` is claimed to be a drop-in for `w100/A`');
    expect(finding?.severity).toBe('warning');
    expect(finding?.related.map(({ message, range }) => [message, range.start.line])).toEqual([['The claim.', 4]]);
  });

  it.each([
    ['the revisions are the same', { revs: ['B', 'B'] as const }],
    ['nothing is claimed that way', { revs: ['B', 'A'] as const }],
    ['the board record was withdrawn', { boards: `${board}retracted: {on: 2026-01-01, because: wrong}\n` }],
    ['it worked', { reached: 'reads', result: 'works' }],
    ['the failure is not controlled', { outcome: 'rom: left' }],
    ['the ROM stayed behind', { family: 'adaptives: {stored_in: rom_chip}' }],
    ['nobody knows whether the ROM travelled', { family: 'host_needs: []' }],
  ])('not where %s', async (_, more) => expect(await found(more)).toEqual([]));

  it.each([
    ['prevents what was tried', 'claim: prevents\nwhen: {different: [model]}'],
    ['needs what was missing', 'claim: needs\nwhen: {same: [model]}'],
    ['does so at a lower stage', 'claim: needs\nwhen: {same: [model]}\nstage: ready'],
  ])('not where a law %s', async (_, rule) => expect(await found({ rule, ...differentModels })).toEqual([]));

  it.each([
    ['is met', 'claim: prevents\nwhen: {same: [model]}'],
    ['is about a higher stage', 'claim: prevents\nwhen: {different: [model]}\nstage: verified'],
    [
      'was passed, as it is about a stage that was reached',
      'claim: prevents\nwhen: {different: [model]}\nstage: spins',
    ],
    ['is a rate', 'claim: prevents\nwhen: {different: [model]}\nat_least: 0.5'],
    ['excepts the outcome', 'claim: prevents\nwhen: {different: [model]}\nexceptions: [{outcome: one, because: wet}]'],
    ['says what is enough', 'claim: enough\nwhen: {same: [model]}'],
  ])('though there is a law, where it %s', async (_, rule) => {
    expect(await found({ rule, ...differentModels })).toHaveLength(1);
  });

  it('and points to a law that may explain it', async () => {
    const [finding] = await found({ rule: 'claim: prevents\nwhen: {different: [model]}', patient: 'model: M1' });
    expect(finding?.related.map(({ message }) => message)).toEqual([
      'The claim.',
      'Rule `tern-rule` may explain it, but too little is recorded to say.',
    ]);
  });
});
