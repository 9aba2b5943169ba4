/** One cause, one finding: what follows from a fault that is reported where it stands is no second fault. */
import { describe, expect, it } from 'vitest';
import { lintFiles } from '../harness/lint-files.ts';
import { type SwapBase, swapBase } from '../harness/swap-base.ts';

/** The ids of all checks that fire, sorted. */
async function found(parts: SwapBase): Promise<string[]> {
  return (await lintFiles(swapBase(parts))).map((finding) => finding.check).sort();
}

const rule = 'kind: rule\nid: tern-rom-travels\nclaim: needs\nwhen: {rom_travels: true}\n';
const romChip = 'adaptives: {stored_in: rom_chip}';

describe('a drive on its own board', () => {
  it('is no swap, so it breaks no rule and supports none', async () => {
    const own = swapBase({ family: romChip, outcome: 'rom: left', files: { 'rules/tern.yaml': rule } });
    const files = { ...own, 'outcomes/one.yaml': own['outcomes/one.yaml']!.replace('donor: d-0118', 'donor: d-0117') };
    expect((await lintFiles(files)).map((finding) => finding.check)).toEqual(['patient-is-donor']);
    expect((await lintFiles(own)).map((finding) => finding.check)).toEqual(['outcome-breaks-rule']);
  });
});

describe('a stage that the observations rule out', () => {
  const noise = { family: romChip, outcome: 'rom: left\nobserved: {content: noise}' };

  it('breaks no rule about that stage', async () => {
    expect(await found({ ...noise, files: { 'rules/tern.yaml': rule } })).toEqual(['reached-without-observation']);
  });

  it('breaks a rule about a stage that they leave', async () => {
    const files = { 'rules/tern.yaml': `${rule}stage: detected\n` };
    expect(await found({ ...noise, files })).toEqual(['outcome-breaks-rule', 'reached-without-observation']);
  });
});

describe('a failure without its controls', () => {
  const spins = { reached: 'spins', outcome: 'rom: left\ncontrols: {donor_on_own_board: works}' };

  it('that is recorded as one is told what it lacks once', async () => {
    expect(await found({ ...spins, result: 'fails' })).toEqual(['result-disagrees']);
    expect(await found({ ...spins, result: 'works' })).toEqual(['result-disagrees']);
    expect(await found({ ...spins, result: 'inconclusive' })).toEqual(['control-missing']);
  });
});

describe('a drive whose two sizes do not fit together', () => {
  const parts = { family: 'sector_bytes: {logical: 512}', patient: 'capacity_gb: 1000\nlba_count: 244190646' };

  it.each([
    ['1953525168', []],
    ['1000204886016', []],
    ['244190646', []],
    ['976773168', ['identity-row-disagrees']],
  ])('leaves a row of %s alone if it follows one of them', async (size, more) => {
    const outcome = `identity: [{value: capacity, patient_before: ${size}}]`;
    expect(await found({ ...parts, outcome })).toEqual(['capacity-mismatch', ...more]);
  });
});

describe('an outcome whose donor is not recorded', () => {
  const lost = (family: string): SwapBase => ({
    files: {
      'families/auk.yaml': 'kind: family\nid: auk-1\nmaker: wren\nname: Auk 1\n',
      'rules/tern.yaml': `${rule}applies_to: {families: [${family}]}\n`,
      'outcomes/one.yaml':
        'kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0811\nrom: left\nreached: reads\nresult: works\n',
    },
  });

  it('may yet test the rules of its patient’s family, and no others', async () => {
    expect(await found(lost('tern-2'))).toEqual(['dangling-reference']);
    expect(await found(lost('auk-1'))).toEqual(['dangling-reference', 'rule-untested']);
  });
});

describe('a value that cannot be read, or stands under a misspelt key', () => {
  it.each<[string, SwapBase, string]>([
    ['family', { family: 'adaptives: {stored_in: romchip}', outcome: 'rom: left' }, 'schema'],
    ['outcome', { family: romChip, outcome: 'rom: leftt' }, 'schema'],
    ['board', { patient: 'board: {id: kb-1}', outcome: 'rom: left' }, 'dangling-reference'],
  ])('of the %s holds a rule up', async (_, parts, fault) => {
    expect(await found({ ...parts, files: { 'rules/tern.yaml': rule } })).toEqual([fault]);
  });

  it.each<[string, SwapBase]>([
    [
      'rmo',
      {
        outcome: 'rmo: left\ncontrols: {donor_on_own_board: works, patient_on_own_board: works}',
        reached: 'spins',
        result: 'fails',
      },
    ],
    ['verfy', { outcome: 'verfy: [{method: hash_compare}]', reached: 'verified' }],
    ['dta', { patient: 'dta: test', outcome: 'verify: [{method: write_pass}]' }],
    ['readonly', { outcome: 'verify: [{method: checksum_scrub, readonly: true}]' }],
    [
      'rom_imge',
      {
        donor: `rom_image: {sha256: ${'3b'.repeat(32)}}`,
        patient: 'rom_imge: {file: a.bin}',
        outcome: 'rom: chip_moved',
      },
    ],
  ])('is not called missing: %s', async (_, parts) => {
    expect(await found(parts)).toEqual(['unknown-key']);
  });

  it('is missing all the same where the right key stands beside it', async () => {
    const outcome = 'verify: [{method: write_pass}]';
    expect(await found({ patient: 'data: wanted\ndta: test', outcome })).toEqual([
      'unknown-key',
      'writing-test-on-wanted-data',
    ]);
  });
});

describe('hours that are minutes', () => {
  const ages = { patient: 'made: 2024-W02', donor: 'made: 2020-W02' };
  const hours = (before: number): SwapBase => ({
    ...ages,
    outcome: `identity: [{value: power_on_hours, patient_before: ${before}, donor_before: 21480, after: 8000}]`,
  });

  it('are nothing a counter can go back from', async () => {
    expect(await found(hours(480_000))).toEqual(['hours-exceed-age']);
    expect(await found(hours(8001))).toEqual(['hours-went-back']);
  });
});

describe('an outcome dated ahead', () => {
  const broke = (date: string): SwapBase => ({
    date,
    donor: 'condition: {board: good, as_of: 2026-06-05}',
    outcome: 'rom: left\ncontrols: {donor_on_own_board: works, patient_on_own_board: works, swapped_back: donor_fails}',
    reached: 'spins',
    result: 'inconclusive',
  });

  it('is not held to come after what was recorded of the drive', async () => {
    expect(await found(broke('2062-06-04'))).toEqual(['date-in-future']);
    expect(await found(broke('2026-06-06'))).toEqual(['condition-disagrees']);
  });
});
