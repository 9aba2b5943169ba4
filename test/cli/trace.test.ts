import { chmodSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderOf, runCommand, runInside, swaplore, transcript } from '../harness/run-cli.ts';
import { capturedText, fullSerials, smartctlText, tracedBench, tracedDrives } from '../harness/traced-bench.ts';

const { patient, donor, after } = tracedDrives;

const files = {
  'a.json': smartctlText(patient),
  'b.json': smartctlText(donor),
  'c.json': smartctlText(after),
};

const three = ['--patient-before', 'a.json', '--donor-before', 'b.json', '--after', 'c.json'];

async function run(
  of: Readonly<Record<string, string>>,
  args: readonly string[],
  folder = folderOf(of),
): Promise<string> {
  return transcript(await runInside(folder, ['trace', ...args]));
}

function expectMasked(text: string): void {
  for (const serial of Object.values(fullSerials)) expect(text).not.toContain(serial);
}

describe('trace of files', () => {
  it('says in words what followed what, then in tables', () => {
    const shown = swaplore(files, ['trace', ...three]);
    expect(shown).toMatchInlineSnapshot(`
      "What followed the platters, and what the board
      ==============================================

      \`serial\`, \`wwn\` and \`power_on_hours\` followed the platters. \`firmware\` followed
      the board. \`model\`, \`capacity\` and \`defect_counts\` may have followed either,
      since what both drives reported before fits.

      Where the ROM went along, what followed the platters may have come in it.

      value           followed
      serial          platters
      wwn             platters
      model           same on both
      firmware        board
      capacity        same on both
      power_on_hours  platters
      defect_counts   same on both

      value           capture         reported
      serial          patient_before  ****4F2K
      serial          donor_before    ****9Q1C
      serial          after           ****4F2K
      wwn             patient_before  5027ce1b9d229a27
      wwn             donor_before    5027ce1cbd868eb8
      wwn             after           5027ce1b9d229a27
      model           patient_before  TNS2-500
      model           donor_before    TNS2-500
      model           after           TNS2-500
      firmware        patient_before  1.02
      firmware        donor_before    1.07
      firmware        after           1.07
      capacity        patient_before  976773168
      capacity        donor_before    976773168
      capacity        after           976773168
      power_on_hours  patient_before  18250
      power_on_hours  donor_before    21480
      power_on_hours  after           18251
      defect_counts   patient_before  4
      defect_counts   donor_before    0
      defect_counts   after           4
      exit 0"
    `);
    expectMasked(shown);
    expect(Math.max(...shown.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  it('gives the same as data', () => {
    const { stdout, stderr, code } = runCommand(folderOf(files), ['trace', ...three, '--json']);
    expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
    const { values, problems } = JSON.parse(stdout);
    expect(problems).toEqual([]);
    expect(values[0]).toEqual({
      value: 'serial',
      patientBefore: '****4F2K',
      donorBefore: '****9Q1C',
      after: '****4F2K',
      follows: 'platters',
    });
    expect(
      Object.fromEntries(values.map((row: { value: string; follows: string }) => [row.value, row.follows])),
    ).toEqual({
      serial: 'platters',
      wwn: 'platters',
      model: 'same_on_both',
      firmware: 'board',
      capacity: 'same_on_both',
      power_on_hours: 'platters',
      defect_counts: 'same_on_both',
    });
    expectMasked(stdout);
  });

  it('shows whole serial numbers only where that is asked for, and never in a base that masks them', async () => {
    expect(await run(files, [...three, '--serials', 'full'])).toContain(fullSerials.patient);
    const refused = await run({ ...files, 'swaplore.yaml': 'swaplore: 1\n' }, [...three, '--serials', 'full']);
    expect(refused).toContain('The base masks serial numbers');
    expect(refused).toContain('exit 2');
    expect(await run({ ...files, 'swaplore.yaml': 'swaplore: 1\nserials: full\n' }, three)).toContain(
      fullSerials.patient,
    );
  });

  it('takes capture files beside raw answers, and holds their dates against the hours', async () => {
    const late = capturedText({ ...after, powerOnHours: 18_400 }, '2026-03-15');
    const shown = await run(
      { ...files, 'a.json': capturedText(patient), 'b.json': capturedText(donor), 'c.json': late },
      three,
    );
    expect(shown.replace(/\s+/g, ' ')).toContain('by the dates of the captures no more than `48` can lie between.');
    expect(shown).toContain('exit 0');
  });

  it('names captures that are not what they are given for', async () => {
    const swapped = await run(files, ['--patient-before', 'c.json', '--donor-before', 'b.json', '--after', 'a.json']);
    expect(swapped).toMatch(/Error: `after` has `18250` hours, fewer than the `18251` of `patient_before`/);
    expect(swapped).toContain('exit 1');
    const twice = await run(files, ['--patient-before', 'a.json', '--donor-before', 'a.json', '--after', 'c.json']);
    expect(twice).toMatch(/`patient_before` and `donor_before` are of one drive/);
    const stranger = { ...after, serial: 'WRN0C0000', wwn: '5027ce1b00000000', powerOnHours: 7, transport: 'usb' };
    const bridge = await run({ ...files, 'c.json': smartctlText(stranger) }, three);
    expect(bridge).toMatch(/Error: `after` fits neither drive: its `serial`, `wwn` and `power_on_hours`/);
    expect(bridge.replace(/\s+/g, ' ')).toContain('a USB bridge answered in its own name');
    const early = {
      'a.json': capturedText(patient),
      'b.json': capturedText(donor),
      'c.json': capturedText(after, '2026-03-01'),
    };
    expect(await run(early, three)).toMatch(/`after` was taken on 2026-03-01, earlier than/);
    for (const text of [swapped, twice, bridge]) expectMasked(text);
  });

  it('compares sizes in bytes where sectors differ', async () => {
    const large = { ...after, lbaCount: 122_096_646, logicalSectorBytes: 4096 };
    const shown = await run({ ...files, 'c.json': smartctlText(large) }, [...three, '--json']);
    expect(shown).toContain('Capacities were compared in bytes.');
    expect(shown).toMatch(/"value": "capacity",[^}]*"follows": "same_on_both"/);
    const other = { ...large, lbaCount: 122_096_645 };
    expect(await run({ ...files, 'c.json': smartctlText(other) }, [...three, '--json'])).toMatch(
      /"value": "capacity",[^}]*"follows": "neither"/,
    );
  });

  it('says what is missing', async () => {
    expect(await run(files, ['--after', 'c.json'])).toContain(
      '! swaplore: trace needs --patient-before, or --outcome.',
    );
    expect(await run(files, [...three, '--write'])).toContain('--write needs --outcome.');
    expect(await run(files, [...three, '--outcome', 'x'])).toContain(
      '--outcome and --patient-before cannot both be given.',
    );
    expect(await run(files, ['--patient-before', 'a.json', '--after', 'no.json'])).toContain(
      '`no.json` cannot be read',
    );
    expect(await run(files, ['--patient-before', 'a.json', '--after', '/dev/null'])).toContain(
      'is a device, not a file',
    );
    expect(await run({ ...files, 'c.json': 'nothing' }, three)).toMatch(
      /Error: `after`: It is nothing that can be read/,
    );
  });
});

describe('trace of an outcome', () => {
  const traced = ['--outcome', 'traced'];

  it('takes the captures it names, and what its family says', async () => {
    const shown = await run(tracedBench(), traced);
    expect(shown).toMatchInlineSnapshot(`
      "What followed the platters, and what the board: outcome \`traced\`
      ================================================================

      \`serial\`, \`wwn\` and \`power_on_hours\` followed the platters. \`firmware\` followed
      the board. \`model\`, \`capacity\` and \`defect_counts\` may have followed either,
      since what both drives reported before fits.

      The family is recorded otherwise for \`firmware\`.

      value           followed      family says
      serial          platters      platters
      wwn             platters      not recorded
      model           same on both  not recorded
      firmware        board         platters
      capacity        same on both  not recorded
      power_on_hours  platters      not recorded
      defect_counts   same on both  not recorded

      value           capture         reported
      serial          patient_before  ****4F2K
      serial          donor_before    ****9Q1C
      serial          after           ****4F2K
      wwn             patient_before  5027ce1b9d229a27
      wwn             donor_before    5027ce1cbd868eb8
      wwn             after           5027ce1b9d229a27
      model           patient_before  TNS2-500
      model           donor_before    TNS2-500
      model           after           TNS2-500
      firmware        patient_before  1.02
      firmware        donor_before    1.07
      firmware        after           1.07
      capacity        patient_before  976773168
      capacity        donor_before    976773168
      capacity        after           976773168
      power_on_hours  patient_before  18250
      power_on_hours  donor_before    21480
      power_on_hours  after           18251
      defect_counts   patient_before  4
      defect_counts   donor_before    0
      defect_counts   after           4
      exit 0"
    `);
    expectMasked(shown);
  });

  it('writes the rows, keeps what stands there, and has nothing to add a second time', async () => {
    const rows = 'identity:\n  - { value: serial, patient_before: "****F2K" } # by hand\n';
    const bench = tracedBench(rows);
    const folder = folderOf(bench);
    const path = join(folder, 'outcomes/traced.yaml');
    writeFileSync(path, `\ufeff${bench['outcomes/traced.yaml']!.replaceAll('\n', '\r\n')}`);
    chmodSync(path, 0o640);
    expect(await run({}, [...traced, '--write'], folder)).toContain('Identity rows written to outcomes/traced.yaml.');
    const written = readFileSync(path, 'utf8');
    expect(written).toMatchInlineSnapshot(`
      "﻿kind: outcome
      id: traced
      date: 2026-03-14
      patient: d-0117
      donor: d-0118
      rom: left
      identity:
        - { value: serial, patient_before: "****F2K", donor_before: "****9Q1C", after: "****4F2K" } # by hand
        - { value: wwn, patient_before: 5027ce1b9d229a27, donor_before: 5027ce1cbd868eb8, after: 5027ce1b9d229a27 }
        - { value: model, patient_before: TNS2-500, donor_before: TNS2-500, after: TNS2-500 }
        - { value: firmware, patient_before: "1.02", donor_before: "1.07", after: "1.07" }
        - { value: capacity, patient_before: 976773168, donor_before: 976773168, after: 976773168 }
        - { value: power_on_hours, patient_before: 18250, donor_before: 21480, after: 18251 }
        - { value: defect_counts, patient_before: 4, donor_before: 0, after: 4 }
      captures: {patient_before: ../captures/a.json, donor_before: ../captures/b.json, after: ../captures/c.json}
      reached: reads
      result: works
      "
    `);
    expect(statSync(path).mode & 0o777).toBe(0o640);
    expectMasked(written);
    expect(await run({}, [...traced, '--write'], folder)).toContain(
      'All of it stands in outcomes/traced.yaml already.',
    );
    expect(readFileSync(path, 'utf8')).toBe(written);
  });

  it('writes nothing where a row says otherwise, or captures are at fault', async () => {
    const rows = 'identity: [{value: firmware, after: "1.02"}, {value: serial, donor_before: WRN0ZZZZZ}]\n';
    const folder = folderOf(tracedBench(rows));
    const path = join(folder, 'outcomes/traced.yaml');
    const before = readFileSync(path, 'utf8');
    const shown = await run({}, [...traced, '--write'], folder);
    expect(shown).toContain('`firmware` in `after` is recorded as `1.02`, but the capture reports `1.07`.');
    expect(shown).toContain('`serial` in `donor_before` is recorded as another, but the capture reports `****9Q1C`.');
    expect(shown).toContain('Nothing was written to outcomes/traced.yaml.');
    expect(shown).toContain('exit 2');
    expect(shown).not.toContain('WRN0ZZZZZ');
    expect(readFileSync(path, 'utf8')).toBe(before);
    writeFileSync(join(folder, 'captures/b.json'), capturedText(patient));
    writeFileSync(join(folder, 'captures/a.json'), capturedText(after));
    const atFault = await run({}, [...traced, '--write', '--json'], folder);
    expect(atFault).toContain('! Nothing was written to outcomes/traced.yaml');
    expect(atFault).toContain('exit 1');
    expect(readFileSync(path, 'utf8')).toBe(before);
  });

  it('reads no capture outside of the base, and none that was changed', async () => {
    const bench = tracedBench();
    const text = bench['outcomes/traced.yaml']!;
    const outside = { ...bench, 'outcomes/traced.yaml': text.replace('../captures/c.json', '../../c.json') };
    expect(await run(outside, traced)).toContain('Error: `after`: The capture lies outside of the base.');
    const changed = text.replace('../captures/c.json', `{file: ../captures/c.json, sha256: "${'0'.repeat(64)}"}`);
    expect((await run({ ...bench, 'outcomes/traced.yaml': changed }, traced)).replace(/\s+/g, ' ')).toContain(
      '`after`: The capture is not the one whose `sha256` the outcome records.',
    );
    const missing = { ...bench, 'outcomes/traced.yaml': text.replace('../captures/c.json', '../captures/d.json') };
    expect(await run(missing, traced)).toContain('`after`: The capture is not there.');
    expect(await run(bench, ['--outcome', 'moved'])).toContain('Outcome `moved` names no capture.');
    expect(await run(bench, ['--outcome', 'trace'])).toContain(
      'Outcome `trace` is not recorded in this base; the nearest is `traced`.',
    );
  });

  it('writes digests where that is asked for', async () => {
    const folder = folderOf({ ...tracedBench(), 'captures/c.json': capturedText(after, '2026-03-14', 'full') });
    const program = { version: '0.0.0', findSerialKey: () => ({ key: new Uint8Array(32) }) };
    await runInside(folder, ['trace', ...traced, '--write', '--serials', 'digest'], {}, program);
    const written = readFileSync(join(folder, 'outcomes/traced.yaml'), 'utf8');
    expect(written).toMatch(/after: "?digest:[0-9a-f]{32}"?/);
    expectMasked(written);
  });
});
