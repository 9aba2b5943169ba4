import { describe, expect, it } from 'vitest';
import { resultDisagrees } from '../../server/src/core/checks/result-disagrees.ts';
import { messagesOf, type SwapBase } from '../harness/swap-base.ts';

const controlled = 'rom: left\ncontrols: {swapped_back: both_work}';

function seen(parts: SwapBase): Promise<string[]> {
  return messagesOf(resultDisagrees, parts);
}

describe('the recorded result against the verdict', () => {
  it.each([
    ['reads', controlled, 'works'],
    ['reads', 'rom: left', 'works'],
    ['verified', 'rom: left', 'works'],
    ['spins', controlled, 'fails'],
    ['spins', 'rom: left', 'inconclusive'],
  ])('reached %s with %j can only be %s', async (reached, outcome, right) => {
    for (const result of ['works', 'fails', 'inconclusive']) {
      expect(await seen({ reached, outcome, result })).toHaveLength(result === right ? 0 : 1);
    }
  });

  it('says what a failure lacks', async () => {
    expect(await seen({ reached: 'spins', outcome: 'rom: left', result: 'fails' })).toEqual([
      "Outcome `one` says `fails`, but a failure counts only with every control in place: nothing shows the donor's board good at `reads` on its own drive; nothing shows the patient's head-disk assembly good at `reads`.",
    ]);
  });

  it('says that a failure is one', async () => {
    expect(await seen({ reached: 'spins', outcome: controlled, result: 'inconclusive' })).toEqual([
      'Outcome `one` says `inconclusive`, but it reached `spins`, below the `reads` this base counts as working, with every control in place.',
    ]);
  });

  it('goes by the stage of the base', async () => {
    const parts = { reached: 'ready', outcome: controlled, result: 'works' };
    expect(await seen({ ...parts, config: 'works_at: ready' })).toEqual([]);
    expect(await seen(parts)).toEqual([
      'Outcome `one` says `works`, but it reached `ready`, below the `reads` this base counts as working.',
    ]);
  });

  it('counts in a retracted outcome too', async () => {
    expect(await seen({ outcome: 'retracted: {on: 2026-04-02, because: mixed up}', result: 'fails' })).toHaveLength(1);
  });
});

describe('silence where another fault is the cause', () => {
  const fails = { reached: 'spins', result: 'fails' };

  it.each([
    ['a control that cannot be read', 'rom: left\ncontrols: {swapped_back: both_works}'],
    ['a ROM that cannot be read', 'rom: moved\ncontrols: {donor_on_own_board: works, patient_on_own_board: works}'],
    ['a proof that is not recorded', 'rom: left\ncontrols: {donor_on_own_board: works, hda_proved_by: two}'],
  ])('%s', async (_, outcome) => {
    expect(await seen({ ...fails, outcome })).toEqual([]);
  });

  it('a family whose host needs cannot be read', async () => {
    expect(await seen({ ...fails, outcome: controlled, family: 'host_needs: [fast]' })).toEqual([]);
  });

  it('a donor that is not recorded', async () => {
    const files = { 'drives/b.yaml': 'kind: drive\nid: d-0119\nfamily: tern-2\n' };
    expect(await seen({ ...fails, outcome: controlled, result: 'inconclusive', files })).toEqual([]);
  });

  it('a stage that the observations rule out, where the result follows from them', async () => {
    const noise = { outcome: `${controlled}\nobserved: {content: noise}` };
    expect(await seen({ ...noise, result: 'fails' })).toEqual([]);
    expect(await seen({ ...noise, result: 'inconclusive' })).toHaveLength(1);
    const clicks = { outcome: `${controlled}\nobserved: {sound: clicking}` };
    expect(await seen({ ...clicks, reached: 'ready', result: 'works' })).toHaveLength(1);
  });
});
