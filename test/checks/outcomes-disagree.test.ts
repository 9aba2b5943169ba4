import { describe, expect, it } from 'vitest';
import { outcomesDisagree } from '../../server/src/core/checks/outcomes-disagree.ts';
import { lintFiles } from '../harness/lint-files.ts';

/** Lines of a drive besides its id; the usual ones make three keys comparable: board, rev, firmware. */
const usual = 'family: tern-2\nfirmware: F1\nboard: {id: w100, rev: A}\n';

interface Base {
  readonly drives?: Readonly<Record<string, string>>;
  readonly board?: string;
  readonly outcomes?: string;
  readonly works?: string;
  readonly fails?: string;
  readonly storedIn?: string;
}

const working =
  'kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-1\ndonor: d-2\nrom: left\nreached: reads\nresult: works\n';
const failing =
  'kind: outcome\nid: two\ndate: 2026-03-15\npatient: d-3\ndonor: d-4\nrom: left\ncontrols: {swapped_back: both_work}\nreached: spins\nresult: fails\n';

async function found({
  drives = {},
  board = '',
  outcomes,
  works = working,
  fails = failing,
  storedIn = 'platters',
}: Base) {
  const findings = await lintFiles(
    {
      'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
      'families/tern.yaml': `kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: ${storedIn}}\n`,
      'boards/w100.yaml': `kind: board\nid: w100\nmaker: wren\npart_number: W100\nrevisions: [{rev: A${board}}, {rev: B}]\n`,
      'drives.yaml': ['d-1', 'd-2', 'd-3', 'd-4', 'd-5', 'd-6', 'd-7', 'd-8']
        .map((id) => `kind: drive\nid: ${id}\n${drives[id] ?? usual}`)
        .join('---\n'),
      'outcomes.yaml': outcomes ?? `${works}---\n${fails}`,
    },
    { checks: [outcomesDisagree] },
  );
  return findings;
}

/** The keys compared, and those neither can be compared in, of the only finding. */
async function keys(base: Base): Promise<readonly string[][]> {
  const [finding, ...others] = await found(base);
  expect(others).toEqual([]);
  const [compared = '', open = ''] = finding?.message.split('; ') ?? [];
  return [compared.replace(/^.*compare alike in /, ''), open].map((part) =>
    [...part.matchAll(/`(\w+)`/g)].map(([, key]) => key!),
  );
}

describe('outcomes disagree', () => {
  it('where board, revision and firmware are the same in both', async () => {
    const [compared, open] = await keys({});
    expect(compared).toEqual(['firmware', 'board', 'rev']);
    expect(open).toContain('motor_driver');
    expect(open).not.toContain('family');
  });

  it('where they differ in both alike', async () => {
    const other = usual.replace('F1', 'F2');
    expect(await keys({ drives: { 'd-1': other, 'd-4': other } })).toHaveLength(2);
    expect(await found({ drives: { 'd-1': other } })).toEqual([]);
  });

  it('not with fewer than three keys, nor without the revision', async () => {
    const bare = 'family: tern-2\nboard: {id: w100, rev: A}\n';
    expect(await found({ drives: { 'd-1': bare } })).toEqual([]);
    const unseen = 'family: tern-2\nfirmware: F1\nmodel: M\nsite: S\ncountry: C\nboard: {id: w100}\n';
    expect(await found({ drives: { 'd-1': unseen, 'd-2': unseen, 'd-3': unseen, 'd-4': unseen } })).toEqual([]);
  });

  it('and count what the revision records, but not what it leaves open', async () => {
    const bare = 'family: tern-2\nboard: {id: w100, rev: A}\n';
    const drives = { 'd-1': bare, 'd-2': bare, 'd-3': bare, 'd-4': bare };
    expect(await found({ drives })).toEqual([]);
    expect((await keys({ drives, board: ', controller: K1' }))[0]).toEqual(['board', 'rev', 'controller']);
  });

  it('not where they are of one pair, whichever way round', async () => {
    expect(await found({ fails: failing.replace('d-3\ndonor: d-4', 'd-2\ndonor: d-1') })).toEqual([]);
  });

  it('not where they are of two families, or the ROM travelled in one alone', async () => {
    const other = usual.replace('tern-2', 'tern-3');
    expect(await found({ drives: { 'd-3': other, 'd-4': other } })).toEqual([]);
    const inChip = { storedIn: 'rom_chip' };
    expect(await found(inChip)).toHaveLength(1);
    expect(await found({ ...inChip, works: working.replace('left', 'image_written') })).toEqual([]);
    expect(await found({ ...inChip, works: working.replace('rom: left\n', '') })).toEqual([]);
  });

  it('not while one of them is undecided', async () => {
    expect(await found({ fails: failing.replace('controls: {swapped_back: both_work}\n', '') })).toEqual([]);
  });

  it('not where an observation of the one that worked says it did not, which is reported', async () => {
    const noise = working.replace('reached', 'observed: {content: noise}\nreached');
    expect(await found({ works: noise })).toEqual([]);
  });

  it('in one finding for each outcome, at the later one, with the nearest of the others first', async () => {
    const pairs = ['d-1\ndonor: d-2', 'd-3\ndonor: d-4', 'd-5\ndonor: d-6'];
    const outcomes = [
      ...pairs.map((pair, n) => working.replace('one', `w-${n + 1}`).replace('d-1\ndonor: d-2', pair)),
      failing.replace('two', 'x').replace('d-3\ndonor: d-4', 'd-7\ndonor: d-8'),
    ].join('---\n');
    const heads = `${usual}heads: 4\n`;
    const drives = { 'd-3': heads, 'd-4': heads, 'd-7': heads, 'd-8': heads };
    const [finding, ...others] = await found({ outcomes, drives });
    expect(others).toEqual([]);
    expect(finding?.record).toBe('outcome/x');
    expect(finding?.message).toContain(
      'Outcome `x` failed where outcome `w-2` (and 2 more) worked, though both compare alike in `firmware`, `heads`, `board`, `rev`',
    );
    expect(finding?.related.map(({ message }) => message)).toEqual([
      'Outcome `w-2` worked.',
      'Outcome `w-1` worked.',
      'Outcome `w-3` worked.',
    ]);
  });

  it('and say so where no key is left to look up', async () => {
    const whole = `family: tern-2\nmodel: M\npart_number: P\nfirmware: F\nrom_version: R\nsite: S\ncountry: C\ncapacity_gb: 500\nheads: 2\nhead_map: "0,1"\nhead_stack_code: H\npreamp: Q\nboard: {id: w100, rev: A, sticker: T, controller: K, motor_driver: D}\n`;
    const drives = { 'd-1': whole, 'd-2': whole, 'd-3': whole, 'd-4': whole };
    const board = ', controller: K, motor_driver: D, contact_pads: 18, roms: [{package: soic8_208mil}]';
    const [finding] = await found({ drives, board });
    expect(finding?.message).toMatch(/; each of the other keys is known in one of them\.$/);
    expect(finding?.help).toBe('Check both bench notes for a difference that no key records.');
  });
});
