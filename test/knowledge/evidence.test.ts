import { spawnSync } from 'node:child_process';
import { expect, it } from 'vitest';
import { swappedPairs } from '../../server/src/core/captures/bytes.ts';
import { traceOutcome } from '../../server/src/core/verdicts/trace-outcome.ts';
import { demoBase } from '../harness/demo-base.ts';
import { demoCaptures, demoSerials } from '../harness/demo-captures.ts';
import { loadFiles } from '../harness/lint-files.ts';

it('is what the drives of the demo base would have answered', async () => {
  for (const [name, text] of Object.entries(demoCaptures())) {
    await expect(text).toMatchFileSnapshot(`../../knowledge/captures/${name}`);
  }
});

it('is what the tool for ROM images writes', () => {
  const { status, stderr } = spawnSync(process.execPath, ['server/tools/write-rom-images.mjs', '--check'], {
    encoding: 'utf8',
  });
  expect(stderr).toBe('');
  expect(status).toBe(0);
});

it('holds no serial number, since this base masks them', () => {
  for (const [path, file] of Object.entries(demoBase())) {
    const bytes = Buffer.from(file);
    for (const serial of demoSerials) {
      const digits = Buffer.from(serial).toString('hex');
      const swapped = Buffer.from(swappedPairs(Buffer.from(serial.padEnd(20))));
      for (const spelling of [serial, digits, swapped.subarray(0, 10)]) {
        expect(bytes.includes(spelling), `${serial} in ${path}`).toBe(false);
      }
    }
  }
});

const sameOnBoth = { model: 'same_on_both', firmware: 'same_on_both', capacity: 'same_on_both' };

it.each([
  // Both assemblies: three defects may have grown from none, but none cannot be left of three.
  ['2024-09-19-tansy-311-312', { ...sameOnBoth, defect_counts: 'platters' }],
  ['2024-09-24-tansy-312-311', { ...sameOnBoth, defect_counts: 'same_on_both' }],
])('of %s shows what each value followed', async (id, others) => {
  const files = demoBase();
  const snapshot = await loadFiles(files);
  const outcome = snapshot.find('outcome', id)!;
  const { values, problems } = traceOutcome(outcome, snapshot)!.result;
  expect(problems).toEqual([]);
  expect(Object.fromEntries(values.map(({ value, follows }) => [value, follows]))).toEqual({
    serial: 'platters',
    wwn: 'platters',
    power_on_hours: 'platters',
    ...others,
  });
});
