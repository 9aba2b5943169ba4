import { describe, expect, it } from 'vitest';
import { doubtsAbout } from '../../server/src/core/verdicts/part-doubts.ts';
import { loadFiles } from '../harness/lint-files.ts';

const drives = ['d-1', 'd-2', 'd-3'].map((id) => `kind: drive\nid: ${id}\nfamily: tern-2\n`).join('---\n');

/** An outcome with d-1 as patient and d-2 as donor, except where `more` says otherwise. */
function outcome(id: string, date: string | undefined, more: string, ends: readonly [string, string] = ['d-1', 'd-2']) {
  const dated = date === undefined ? '' : `date: ${date}\n`;
  return `kind: outcome\nid: ${id}\n${dated}patient: ${ends[0]}\ndonor: ${ends[1]}\nresult: inconclusive\n${more}\n`;
}

async function doubts(drive: string, outcomes: readonly string[], after?: string, family = '') {
  const snapshot = await loadFiles({
    'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
    'families/tern.yaml': `kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n${family}`,
    'drives.yaml': drives,
    'outcomes.yaml': outcomes.join('---\n'),
  });
  return doubtsAbout(snapshot.find('drive', drive)!, after, snapshot).map(
    ({ about, outcome: by }) => `${by.id}: ${about}`,
  );
}

const broke =
  'controls: {donor_on_own_board: works, patient_on_own_board: works, swapped_back: donor_fails}\nreached: spins';

describe('an outcome says against', () => {
  it('the board of a donor that worked before the swap and not after it', async () => {
    expect(await doubts('d-2', [outcome('one', '2026-03-14', broke)])).toEqual(['one: board']);
    expect(await doubts('d-1', [outcome('one', '2026-03-14', broke)])).toEqual([]);
  });

  it('the own board of a patient that works with another one only', async () => {
    const recovery = 'controls: {patient_on_own_board: fails, swapped_back: patient_fails}\nreached: reads';
    expect(await doubts('d-1', [outcome('one', '2026-03-14', recovery)])).toEqual(['one: board']);
    expect(await doubts('d-2', [outcome('one', '2026-03-14', recovery)])).toEqual([]);
  });

  it('the media of a donor whose board works on the patient only', async () => {
    const odd = 'rom: left\ncontrols: {donor_on_own_board: fails}\nreached: reads';
    expect(await doubts('d-2', [outcome('one', '2026-03-14', odd)])).toEqual(['one: media']);
  });

  it('a whole drive that fails on its own board, unless the host may be to blame', async () => {
    const dead = 'rom: left\ncontrols: {donor_on_own_board: fails}\nreached: spins';
    expect(await doubts('d-2', [outcome('one', '2026-03-14', dead)])).toEqual(['one: drive']);
    expect(await doubts('d-2', [outcome('one', '2026-03-14', dead)], undefined, 'host_needs: [jumper]\n')).toEqual([]);
  });

  it('the place of a board, or of a part of it, that was not swapped back', async () => {
    const left = 'controls: {swapped_back: not_done}\nrom: chip_moved\nreached: reads';
    expect(await doubts('d-2', [outcome('one', '2026-03-14', left)])).toEqual(['one: place']);
    expect(await doubts('d-1', [outcome('one', '2026-03-14', left)])).toEqual(['one: place']);
    expect(await doubts('d-1', [outcome('one', '2026-03-14', left.replace('chip_moved', 'left'))])).toEqual([]);
    expect(await doubts('d-2', [outcome('one', '2026-03-14', 'reached: reads')])).toEqual([]);
  });

  it('the media of a patient that was heard grinding', async () => {
    const grinding = 'observed: {sound: grinding}\nreached: spins';
    expect(await doubts('d-1', [outcome('one', '2026-03-14', grinding)])).toEqual(['one: media']);
    expect(await doubts('d-2', [outcome('one', '2026-03-14', grinding)])).toEqual([]);
  });

  it('nothing where it is retracted or a control cannot be read', async () => {
    const retracted = `${broke}\nretracted: {on: 2026-04-01, because: wrong drive}`;
    expect(await doubts('d-2', [outcome('one', '2026-03-14', retracted)])).toEqual([]);
    const unreadable = broke.replace('patient_on_own_board: works', 'patient_on_own_board: sort of');
    expect(await doubts('d-2', [outcome('one', '2026-03-14', unreadable)])).toEqual([]);
  });
});

describe('an outcome on or before the day of the record says nothing against it', () => {
  it.each([
    ['2026-03-13', ['one: board']],
    ['2026-03-14', []],
    ['2026-03-15', []],
  ] as const)('%s', async (after, expected) => {
    expect(await doubts('d-2', [outcome('one', '2026-03-14', broke)], after)).toEqual(expected);
  });

  it('counts an outcome without a date only where the record has none', async () => {
    expect(await doubts('d-2', [outcome('one', undefined, broke)], '2026-03-13')).toEqual([]);
    expect(await doubts('d-2', [outcome('one', undefined, broke)])).toEqual(['one: board']);
  });
});

describe('a drive that worked whole on the same day or later takes back every doubt of another outcome', () => {
  const works = 'controls: {donor_on_own_board: works}\nreached: spins';

  it.each([
    ['2026-03-15', []],
    ['2026-03-14', []],
    ['2026-03-13', ['one: board']],
  ] as const)('%s', async (date, expected) => {
    const outcomes = [outcome('one', '2026-03-14', broke), outcome('two', date, works, ['d-3', 'd-2'])];
    expect(await doubts('d-2', outcomes)).toEqual(expected);
  });

  it('a board that worked on another patient is not damaged, and still away', async () => {
    const lent = 'controls: {swapped_back: not_done}\nreached: reads';
    const outcomes = [outcome('one', '2026-03-14', broke), outcome('two', '2026-03-15', lent, ['d-3', 'd-2'])];
    expect(await doubts('d-2', outcomes)).toEqual(['two: place']);
  });
});
