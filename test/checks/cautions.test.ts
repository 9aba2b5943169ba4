import { describe, expect, it } from 'vitest';
import { lintFiles } from '../harness/lint-files.ts';

const bench = {
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
  'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n',
};

/** The findings of one check as `severity file:line`. */
async function found(check: string, files: Readonly<Record<string, string>>): Promise<string[]> {
  const findings = await lintFiles({ ...bench, ...files });
  return findings
    .filter((finding) => finding.check === check)
    .map(({ severity, file, range }) => `${severity} ${file}:${range.start.line + 1}`);
}

function outcome(more: string): string {
  return `kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\nresult: inconclusive\n${more}\n`;
}

describe('writing-test-on-wanted-data', () => {
  const scrub = outcome('reached: reads\nverify:\n  - method: checksum_scrub\n    read_only: false');

  it('warns of a scrub and stops at a writing test, each row by itself', async () => {
    const both = `${scrub}  - method: write_pass\n`;
    expect(await found('writing-test-on-wanted-data', { 'one.yaml': both })).toEqual([
      'warning one.yaml:9',
      'error one.yaml:11',
    ]);
  });

  it('stays silent where the patient or what is on it cannot be read, or the row cannot', async () => {
    const drives = bench['drives/tern.yaml'];
    expect(await found('writing-test-on-wanted-data', { 'one.yaml': scrub.replace('d-0117', 'd-0171') })).toEqual([]);
    expect(
      await found('writing-test-on-wanted-data', {
        'one.yaml': scrub,
        'drives/tern.yaml': drives.replace('tern-2', 'tern-2\ndata: wnted'),
      }),
    ).toEqual([]);
    expect(await found('writing-test-on-wanted-data', { 'one.yaml': scrub.replace('false', 'mostly') })).toEqual([]);
    expect(
      await found('writing-test-on-wanted-data', { 'one.yaml': scrub.replace('checksum_scrub', 'scrub') }),
    ).toEqual([]);
  });

  it('asks about the patient, not about the donor', async () => {
    const drives = bench['drives/tern.yaml'].replace('tern-2', 'tern-2\ndata: none');
    expect(await found('writing-test-on-wanted-data', { 'one.yaml': scrub, 'drives/tern.yaml': drives })).toEqual([]);
  });
});

describe('kept-powered', () => {
  const kept = (observed: string) => ({ 'one.yaml': outcome(`reached: reads\nobserved: {${observed}}`) });

  it.each([
    ['sound: clicking, powered_minutes: 0.5', 0],
    ['sound: clicking, powered_minutes: 0.51', 1],
    ['sound: beeping, powered_minutes: 2', 1],
    ['sound: grinding, powered_minutes: 0', 0],
    ['sound: grinding, powered_minutes: 0.01', 1],
    ['sound: silent, powered_minutes: 90', 0],
    ['sound: grinding', 0],
    ['powered_minutes: 90', 0],
    ['sound: clicks, powered_minutes: 90', 0],
  ])('%s', async (observed, count) => {
    expect(await found('kept-powered', kept(observed))).toHaveLength(count);
  });

  it('takes the limit of the base', async () => {
    const files = kept('sound: clicking, powered_minutes: 4');
    expect(
      await found('kept-powered', { ...files, 'swaplore.yaml': 'swaplore: 1\nkept_powered_minutes: 5\n' }),
    ).toEqual([]);
  });
});

describe('serial-not-masked', () => {
  it.each([
    ['"****4F2K"', 0],
    ['"****K"', 0],
    ['"****A4F2K"', 1],
    ['"***4F2K"', 1],
    ['"****"', 1],
    ['WRN0A4F2K', 1],
    ['digest:5d1c9a0377be42f1', 0],
    [`digest:${'0F'.repeat(32)}`, 0],
    ['digest:5d1c9a0377be42f', 1],
    [`digest:${'0f'.repeat(33)}`, 1],
    ['digest:WRN0A4F2K9Q1C0000', 1],
    ['""', 0],
    ['40112', 0],
  ])('%s', async (serial, count) => {
    const drive = `kind: drive\nid: d-1\nfamily: tern-2\nserial: ${serial}\n`;
    expect(await found('serial-not-masked', { 'd.yaml': drive })).toHaveLength(count);
  });

  it('never repeats the number', async () => {
    const drive = 'kind: drive\nid: d-1\nfamily: tern-2\nserial: WRN0A4F2K\n';
    const [finding] = await lintFiles({ ...bench, 'd.yaml': drive });
    expect(JSON.stringify(finding)).not.toContain('WRN0A');
    expect(finding?.help).toBe('Write `"****4F2K"`, with the quotes.');
  });

  it('looks at every column of rows that trace the serial number, and at no other row', async () => {
    const rows = outcome(`reached: reads
identity:
  - {value: serial, patient_before: A1111, donor_before: B2222, after: A1111, other_after: B2222}
  - {value: model, after: TRN-2000}`);
    expect(await found('serial-not-masked', { 'one.yaml': rows })).toHaveLength(4);
  });
});

describe('control-missing', () => {
  const controls = 'controls: {donor_on_own_board: works, patient_on_own_board: works}';

  it.each([
    ['works at the stage', 'rom: left\nreached: reads', 0],
    ['fails, with every control', `rom: left\nreached: spins\n${controls}`, 0],
    ['a moved chip that nobody read back', `rom: chip_moved\nreached: spins\n${controls}`, 1],
    ['no controls at all', 'rom: left\nreached: spins', 1],
    [
      'a donor that fails by itself: no control would help',
      'rom: left\nreached: spins\ncontrols: {donor_on_own_board: fails, patient_on_own_board: works}',
      0,
    ],
    [
      'damage on the way: no control would help',
      `rom: left\nreached: spins\n${controls.replace('}', ', swapped_back: both_fail}')}`,
      0,
    ],
    ['a control that cannot be read', 'rom: left\nreached: spins\ncontrols: {donor_on_own_board: good}', 0],
    [
      'a proof that is not recorded',
      'rom: left\nreached: spins\ncontrols: {donor_on_own_board: works, hda_proved_by: two}',
      0,
    ],
    ['retracted', 'rom: left\nreached: spins\nretracted: {on: 2026-04-01, because: wrong drive}', 0],
  ])('%s', async (_, more, count) => {
    const lines = await found('control-missing', { 'one.yaml': outcome(more) });
    expect(lines).toHaveLength(count);
  });
});

describe('rom-not-kept', () => {
  it('names both drives where neither has an image', async () => {
    const [finding] = (
      await lintFiles({ ...bench, 'one.yaml': outcome('reached: reads\nrom: [chip_moved, image_written]') })
    ).filter(({ check }) => check === 'rom-not-kept');
    expect(finding?.message).toBe(
      'Outcome `one` records `chip_moved` and `image_written`, but neither patient `d-0117` nor donor `d-0118` has a `rom_image`; both images are to be kept before ROM data is moved or written.',
    );
    expect(finding?.related).toHaveLength(2);
  });

  it('stays silent about an image that cannot be read', async () => {
    const drives = bench['drives/tern.yaml'].replaceAll('tern-2', 'tern-2\nrom_image: {sha256: 3b1f}');
    expect(
      await found('rom-not-kept', {
        'drives/tern.yaml': drives,
        'one.yaml': outcome('reached: reads\nrom: chip_moved'),
      }),
    ).toEqual([]);
  });
});

describe('rule-untested', () => {
  const rule = 'kind: rule\nid: needs-rom\nclaim: needs\nwhen: {rom_travels: true}\n';

  it.each([
    ['no outcome at all', {}, 1],
    [
      'an outcome the claim says nothing about',
      {
        'one.yaml': outcome(
          'rom: chip_moved\nreached: spins\nrom_proved: read_back\ncontrols: {donor_on_own_board: works, patient_on_own_board: works}',
        ),
        'families/tern.yaml': `${bench['families/tern.yaml']}adaptives: {stored_in: rom_chip}\n`,
      },
      0,
    ],
    ['an outcome whose result cannot be read', { 'one.yaml': outcome('rom: left\nreached: halfway') }, 0],
    ['a broken document that may hold the outcome', { 'one.yaml': 'kind: outcome\nid: one\nby: a: b\n' }, 0],
    [
      'a rule that names a family nobody recorded',
      { 'rule.yaml': rule.replace('claim', 'applies_to: {families: [tern-3]}\nclaim') },
      0,
    ],
    ['a retracted rule', { 'rule.yaml': `${rule}retracted: {on: 2026-04-01, because: untrue}\n` }, 0],
  ])('%s', async (_, files, count) => {
    const lines = await found('rule-untested', { 'rule.yaml': rule, ...files });
    expect(lines).toHaveLength(count);
  });
});

describe('condition-disagrees', () => {
  const drive = (more: string) => ({ 'drives/tern.yaml': `${bench['drives/tern.yaml']}${more}\n` });
  const failed = (file: string) => ({
    'one.yaml': outcome(`reached: spins\nrom: left\ncontrols: {donor_on_own_board: ${file}}`),
  });
  const broke = {
    'one.yaml': outcome(
      'reached: spins\nrom: left\ncontrols: {donor_on_own_board: works, patient_on_own_board: works, swapped_back: donor_fails}',
    ),
  };

  it.each([
    ['good twice, and the drive failed', 'condition: {board: good, media: good}', failed('fails'), 1],
    ['only the board called good, and the drive failed', 'condition: {board: good}', failed('fails'), 0],
    ['a spare whose board was damaged', 'shelf: {spare: true}', broke, 1],
    ['good and spare: one finding', 'condition: {board: good}\nshelf: {spare: true}', broke, 1],
    ['a spare that is recorded as faulty', 'condition: {board: faulty}\nshelf: {spare: true}', broke, 0],
    ['a condition whose day cannot be read', 'condition: {board: good, as_of: yesterday}', broke, 0],
    ['neither good nor spare', 'condition: {board: unknown}', broke, 0],
  ])('%s', async (_, more, files, count) => {
    const lines = await found('condition-disagrees', { ...drive(more), ...files });
    expect(lines).toHaveLength(count);
  });
});

describe('look-alike-value', () => {
  const drives = (...values: readonly string[]) =>
    Object.fromEntries(
      values.map((value, position) => [
        `d${position}.yaml`,
        `kind: drive\nid: d-${position}\nfamily: tern-2\n${value}\n`,
      ]),
    );

  it('marks every rarer spelling once, against the one most in use', async () => {
    const files = drives('site: S-B', 'site: SB', 'site: sb', 'site: S B');
    expect(await found('look-alike-value', files)).toEqual(['info d0.yaml:4', 'info d3.yaml:4']);
  });

  it('sees values in conditions and on boards', async () => {
    const rule = 'kind: rule\nid: r\nclaim: prevents\nwhen: {any: [{donor: {controller: [OV-290, OV-29O]}}]}\n';
    const board =
      'kind: board\nid: b\nmaker: wren\npart_number: B\nrevisions: [{rev: A0, controller: OV-290}, {rev: AO}]\n';
    const files = { 'b.yaml': board, 'r.yaml': rule, 'swaplore.yaml': 'swaplore: 1\nseverity: {rule-untested: off}\n' };
    expect(await found('look-alike-value', files)).toEqual(['info b.yaml:5', 'info r.yaml:4']);
  });

  it('keeps the revisions of two boards apart, and leaves markings that the board refuses to the board', async () => {
    const board = (id: string, rev: string) =>
      `kind: board\nid: ${id}\nmaker: wren\npart_number: B\nrevisions: [{rev: ${rev}, controller: OV-290}]\n`;
    const files = {
      'a.yaml': board('a', 'A0'),
      'b.yaml': board('b', 'AO'),
      ...drives('board: {id: a, rev: A0, controller: OV-29O}'),
    };
    expect(await found('look-alike-value', files)).toEqual([]);
  });

  it('leaves retracted records out', async () => {
    const files = drives('site: SB', 'site: S-B\nretracted: {on: 2026-04-01, because: typed twice}');
    expect(await found('look-alike-value', files)).toEqual([]);
  });
});
