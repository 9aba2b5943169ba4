import { expect, it } from 'vitest';
import { captureOf } from '../../server/src/core/captures/capture-file.ts';
import { traceOf } from '../../server/src/core/captures/trace.ts';
import { readTraced } from '../../server/src/core/captures/traced-capture.ts';
import { captureText } from '../../server/src/core/captures/write-capture.ts';
import { asciiBytes, encodeVpd, encodeVpd83 } from '../harness/encode-vpd.ts';
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

it.each([
  ['{"capture": 1}', true],
  [' \n{ "capture" : 1}', true],
  ['{\n  "capture": 1}', true],
  ['capture: 1', true],
  ['  capture : 1', true],
  ['"capture": 1', true],
  ['capture', false],
  ['a capture: 1', false],
  ['{"a": 1, "capture": 1}', false],
  ['{{"capture": 1}', false],
  ['captures: 1', false],
  ['recapture: 1', false],
])('takes %j for a capture file: %j', (text, isOne) => {
  const { problems = [] } = readTraced(new TextEncoder().encode(text));
  // Each has a fault: what is no capture file is nothing that can be read, or a damaged text.
  expect(
    problems.map(({ message }) => message).includes('The capture file has faults, so values may be missing.'),
  ).toBe(isOne);
});

it('reads what a drive answered, with all that may be a serial number', () => {
  const page = encodeVpd83([{ type: 0, codeSet: 2, content: asciiBytes('XY77Q1ZZ') }]);
  expect(readTraced(page)).toStrictEqual({ values: {}, problems: [], likelySerials: ['XY77Q1ZZ'] });
  expect(readTraced(encodeVpd(0x80, asciiBytes('WRN0A4F2')))).toStrictEqual({
    values: { serial: 'WRN0A4F2' },
    problems: [],
    likelySerials: [],
  });
});
