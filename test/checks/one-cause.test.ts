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
