import { expect, it } from 'vitest';
import type { Capture } from '../../server/src/core/captures/capture-file.ts';
import { captureText } from '../../server/src/core/captures/write-capture.ts';

it('is JSON with two spaces and a newline at the end', () => {
  expect(captureText({ capture: 1, values: { rpm: 5400 }, sources: [] })).toBe(
    '{\n  "capture": 1,\n  "values": {\n    "rpm": 5400\n  },\n  "sources": []\n}\n',
  );
});

it.each([
  ['\u007e', '~'],
  ['\u007f', '\\u007f'],
  ['\u0085', '\\u0085'],
  ['\u009f', '\\u009f'],
  ['\u00a0', '\u00a0'],
  ['\u2027', '\u2027'],
  ['\u2028\u2029', '\\u2028\\u2029'],
  ['\u202a', '\u202a'],
  ['\ufeff', '\\ufeff'],
  ['\ufffe\uffff', '\\ufffe\\uffff'],
  ['\ufffd', '\ufffd'],
  ['\u0001', '\\u0001'],
  ['é"', 'é\\"'],
])('writes %j so that readers of YAML take it', (model, written) => {
  const capture: Capture = { capture: 1, values: { model }, sources: [] };
  const text = captureText(capture);
  expect(text).toContain(`"model": "${written}"\n`);
  expect(JSON.parse(text)).toEqual(capture);
});
