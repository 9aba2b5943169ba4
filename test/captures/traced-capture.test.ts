import { expect, it } from 'vitest';
import { captureOf } from '../../server/src/core/captures/capture-file.ts';
import { traceOf } from '../../server/src/core/captures/trace.ts';
import { readTraced } from '../../server/src/core/captures/traced-capture.ts';
import { captureText } from '../../server/src/core/captures/write-capture.ts';
import { fullSerials, smartctlText, tracedDrives } from '../harness/traced-bench.ts';

const { patient, donor } = tracedDrives;

it('masks the serial number of every source of a capture file, the ones that did not count too', () => {
  const sources = [patient, donor].map((values, at) => ({
    name: `smartctl_${at}`,
    bytes: new TextEncoder().encode(smartctlText(values)),
  }));
  const text = captureText(captureOf({ sources, serials: 'full' }));
  const { problems } = traceOf({ after: readTraced(new TextEncoder().encode(text)) }, { serials: 'masked' });
  const said = problems.map(({ message }) => message).join('\n');
  expect(said).toContain('Serial number `****9Q1C`');
  for (const serial of Object.values(fullSerials)) expect(said).not.toContain(serial);
});
